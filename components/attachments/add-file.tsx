'use client';

import { Button, FileButton, FileInput, Group, NativeSelect, TextInput } from '@mantine/core';
import { type FormEvent, useState } from 'react';
import { ErrorSummary } from '@/components/ui/error-summary';
import { fieldId } from '@/components/ui/field-id';
import { problemOf } from '@/components/ui/problem';
import { say } from '@/lib/platform/words/say';
import classes from './files.module.css';
import type { LabelledSubject } from './files-section';
import { useAddFile } from './queries';

/** Adds photos or documents, one after the other; those that are refused stay chosen, with why. */
export function AddFile({ targets }: { targets: readonly LabelledSubject[] }) {
  const add = useAddFile();
  const [chosen, setChosen] = useState<File[]>([]);
  const [refused, setRefused] = useState<{ path: string; message: string }[]>([]);
  const submit = async (event: FormEvent<HTMLFormElement>) => {
    event.preventDefault();
    const form = event.currentTarget;
    const data = new FormData(form);
    const target = targets.find(({ subjectId }) => subjectId === data.get('target')) ?? targets[0];
    if (target === undefined) return;
    const problems: typeof refused = [];
    const left: File[] = [];
    for (const file of chosen) {
      try {
        const { subjectType, subjectId } = target;
        await add.mutateAsync({ subjectType, subjectId, file, caption: String(data.get('caption') ?? '') });
      } catch (error) {
        left.push(file);
        problems.push({
          path: 'file',
          message: `${file.name}: ${problemOf(error).title ?? say('not taken')}`,
        });
      }
    }
    setChosen(left);
    setRefused(problems);
    if (left.length === 0) form.reset();
  };
  return (
    <form onSubmit={(event) => void submit(event)} className={classes.add} noValidate>
      <ErrorSummary problems={refused} title={say('Not taken:')} />
      <Group align="flex-end">
        <FileInput
          id={fieldId('file')}
          label={say('Add photos or documents')}
          description={say('JPEG, PNG, WebP, TIFF or PDF, up to 40 MB each')}
          placeholder={say('Choose files')}
          accept="image/jpeg,image/png,image/webp,image/tiff,application/pdf"
          multiple
          value={chosen}
          onChange={setChosen}
          w={320}
          maw="100%"
        />
        <FileButton
          accept="image/jpeg"
          capture="environment"
          onChange={(photo) => photo && setChosen((before) => [...before, photo])}
        >
          {(props) => (
            <Button {...props} variant="default" className={classes.camera}>
              {say('Take a photo')}
            </Button>
          )}
        </FileButton>
        {targets.length > 1 ? (
          <NativeSelect
            name="target"
            label={say('What it shows')}
            data={targets.map(({ subjectId, label }) => ({ value: subjectId, label }))}
          />
        ) : null}
        <TextInput
          name="caption"
          label={say('In words')}
          placeholder={say('Left wing from above')}
          maxLength={500}
        />
        <Button type="submit" disabled={chosen.length === 0} loading={add.isPending}>
          {say('Add')}
        </Button>
      </Group>
    </form>
  );
}
