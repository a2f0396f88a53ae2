'use client';

import { Button, Group, NativeSelect, Stack, Textarea, TextInput } from '@mantine/core';
import { type FormEvent, useState } from 'react';
import { CautionCard } from '@/components/ui/caution-card';
import { ErrorSummary } from '@/components/ui/error-summary';
import { fieldId } from '@/components/ui/field-id';
import { problemOf, problemsIn } from '@/components/ui/problem';
import { DEACCESSION_METHODS, deaccessionRequest, HANDED_OVER } from '@/lib/catalogue/schema';
import type { CatalogueRecord } from '@/lib/catalogue/wire';
import { say, sayWord } from '@/lib/platform/words/say';
import { useSheetChange } from './sheet-queries';

const LEAVES = new Set(['on-shelf', 'missing']);

/** Takes a material out of the collection for good, with who decided and on which paper. */
export function DeaccessionForm({ record }: { record: CatalogueRecord }) {
  const here = record.materials.filter(({ custody }) => LEAVES.has(custody));
  const change = useSheetChange(record.birdId);
  const [open, setOpen] = useState(false);
  const [method, setMethod] = useState<(typeof DEACCESSION_METHODS)[number]>('transferred');
  const [local, setLocal] = useState<{ path: string; message: string }[]>([]);
  if (here.length === 0) return null;
  if (!open)
    return (
      <Button variant="default" mt="md" onClick={() => setOpen(true)}>
        {say('Deaccession a material')}
      </Button>
    );
  const submit = (event: FormEvent<HTMLFormElement>) => {
    event.preventDefault();
    const form = Object.fromEntries(new FormData(event.currentTarget));
    const material = here.find(({ id }) => id === form.materialId);
    const parsed = deaccessionRequest.safeParse({ ...form, version: material?.version });
    if (!parsed.success) {
      setLocal(problemsIn(parsed.error));
      return;
    }
    setLocal([]);
    change.mutate({ act: 'deaccession', body: parsed.data }, { onSuccess: () => setOpen(false) });
  };
  const problem = problemOf(change.error);
  return (
    <form onSubmit={submit} noValidate>
      <Stack gap="md" maw={560} mt="md">
        <CautionCard
          title={say('It leaves for good')}
          source={say('50 CFR 13.46 (records of transfers, five years; read in an older edition)')}
        >
          {say(
            'A bird held under a permit may go only to somebody authorised to hold it; records of it stay.',
          )}
        </CautionCard>
        <ErrorSummary
          problems={local.length > 0 ? local : (problem.fields ?? [])}
          title={problem.title}
          attempt={change.failureCount}
        />
        <NativeSelect
          id={fieldId('materialId')}
          name="materialId"
          label={say('Material')}
          data={here.map(({ id, label, kind }) => ({
            value: id,
            label: `${label}, ${sayWord(kind).toLowerCase()}`,
          }))}
        />
        <NativeSelect
          id={fieldId('method')}
          name="method"
          label={say('How it leaves')}
          data={DEACCESSION_METHODS.map((value) => ({ value, label: sayWord(value) }))}
          value={method}
          onChange={(event) => setMethod(event.currentTarget.value as typeof method)}
        />
        <TextInput id={fieldId('on')} name="on" label={say('On')} type="date" required />
        {HANDED_OVER.includes(method) ? (
          <>
            <TextInput id={fieldId('recipient')} name="recipient" label={say('Who receives it')} required />
            <TextInput
              id={fieldId('recipientAuthority')}
              name="recipientAuthority"
              label={say('Permit or authority under which they hold it')}
            />
          </>
        ) : (
          <TextInput id={fieldId('witness')} name="witness" label={say('Witness')} />
        )}
        <TextInput
          id={fieldId('authority')}
          name="authority"
          label={say('Who decided')}
          description={say('A person or a committee.')}
          required
        />
        <TextInput id={fieldId('document')} name="document" label={say('Reference of the paper')} required />
        <Textarea id={fieldId('reason')} name="reason" label={say('Why')} required />
        <Group>
          <Button type="submit" color="stop" loading={change.isPending}>
            {say('Deaccession it')}
          </Button>
          <Button variant="default" onClick={() => setOpen(false)}>
            {say('Leave it as it is')}
          </Button>
        </Group>
      </Stack>
    </form>
  );
}
