'use client';

import { Button, Group, TextInput } from '@mantine/core';
import { IconFileText } from '@tabler/icons-react';
import { type FormEvent, useState } from 'react';
import { ConfirmInline } from '@/components/ui/confirm-inline';
import { ErrorState } from '@/components/ui/error-state';
import { Moment } from '@/components/ui/moment';
import { StateBadge } from '@/components/ui/state-badge';
import type { AttachmentRow } from '@/lib/attachments/schema';
import { say } from '@/lib/platform/words/say';
import classes from './files.module.css';
import { fileAddress, useCaptionFile, useRemoveFile } from './queries';

const saySize = (bytes: number): string =>
  bytes < 1024 * 1024
    ? `${Math.max(1, Math.round(bytes / 1024))} kB`
    : `${(bytes / 1024 / 1024).toFixed(1)} MB`;

/** One photo or document: what it shows, who added it, and the copies that this reader may open. */
export function FileCard({ file, of }: { file: AttachmentRow; of?: string }) {
  const says = file.caption ?? file.fileName;
  return (
    <li className={classes.card}>
      <a
        className={classes.picture}
        href={fileAddress(file.id, file.isPicture ? 'public' : 'original')}
        target="_blank"
        rel="noreferrer"
        aria-label={say('Open {says}', { says })}
      >
        {file.isPicture ? (
          // biome-ignore lint/performance/noImgElement: the file comes from our own gate, already small
          <img src={fileAddress(file.id, 'thumb')} alt={says} loading="lazy" />
        ) : (
          <IconFileText size={48} stroke={1} aria-hidden="true" />
        )}
      </a>
      <div className={classes.words}>
        <strong>{says}</strong>
        {of === undefined ? null : <span>{of}</span>}
        <span className={classes.small}>
          {file.uploadedBy === null ? null : `${file.uploadedBy}, `}
          <Moment at={file.takenAt ?? file.uploadedAt} />, {saySize(file.sizeBytes)}
        </span>
        {file.hasPlace ? (
          <StateBadge tone="attention">
            {say('The camera wrote a place into the original; no copy has it')}
          </StateBadge>
        ) : null}
        {file.isPicture && file.abilities.original ? (
          <a href={fileAddress(file.id, 'original')} target="_blank" rel="noreferrer">
            {say('Original')}
          </a>
        ) : null}
        {file.abilities.change ? <Changes file={file} /> : null}
      </div>
    </li>
  );
}

function Changes({ file }: { file: AttachmentRow }) {
  const [writing, setWriting] = useState(false);
  const caption = useCaptionFile(file.id);
  const remove = useRemoveFile(file.id);
  const submit = (event: FormEvent<HTMLFormElement>) => {
    event.preventDefault();
    const said = String(new FormData(event.currentTarget).get('caption') ?? '');
    caption.mutate(said, { onSuccess: () => setWriting(false) });
  };
  if (writing)
    return (
      <form onSubmit={submit}>
        <TextInput
          name="caption"
          label={say('What it shows')}
          defaultValue={file.caption ?? ''}
          maxLength={500}
        />
        <Group gap="xs" mt="xs">
          <Button type="submit" loading={caption.isPending}>
            {say('Keep')}
          </Button>
          <Button variant="default" onClick={() => setWriting(false)}>
            {say('Leave it')}
          </Button>
        </Group>
        {caption.error === null ? null : <ErrorState error={caption.error} />}
      </form>
    );
  return (
    <Group gap="xs">
      <Button variant="default" onClick={() => setWriting(true)}>
        {say('Say what it shows')}
      </Button>
      <ConfirmInline
        act={say('Remove')}
        question={say('It goes from sight; that it was here stays in the history.')}
        confirm={say('Remove it')}
        reason={{ label: say('Why it goes') }}
        busy={remove.isPending}
        onConfirm={(reason) => remove.mutateAsync(reason)}
      />
      {remove.error === null ? null : <ErrorState error={remove.error} />}
    </Group>
  );
}
