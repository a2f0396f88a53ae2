'use client';

import { useQuery } from '@tanstack/react-query';
import { ErrorState } from '@/components/ui/error-state';
import { Section } from '@/components/ui/facts';
import { Loading } from '@/components/ui/loading';
import type { AttachmentSubject } from '@/lib/attachments/schema';
import { countOf, say } from '@/lib/platform/words/say';
import { AddFile } from './add-file';
import { FileCard } from './file-card';
import classes from './files.module.css';
import { type FileSubject, filesOptions } from './queries';

export type LabelledSubject = FileSubject & { label: string };

/**
 * Photos and documents of a record. `targets`: what a new file may belong to, where that is more than the record
 * itself (the lines of a loan).
 */
export function FilesSection({
  subjectType,
  subjectId,
  targets = [],
}: {
  subjectType: AttachmentSubject;
  subjectId: string;
  targets?: readonly LabelledSubject[];
}) {
  const files = useQuery(filesOptions({ subjectType, subjectId }));
  const rows = files.data?.rows ?? [];
  const labels = new Map(targets.map((target) => [target.subjectId, target.label]));
  return (
    <Section
      id="files"
      title={say('Photos and documents')}
      note={rows.length === 0 ? undefined : countOf(rows.length, 'file')}
    >
      {files.error ? (
        <ErrorState
          what={say('The files could not be loaded.')}
          error={files.error}
          onRetry={() => void files.refetch()}
        />
      ) : files.data === undefined ? (
        <Loading what={say('Loading the files')} lines={3} />
      ) : (
        <>
          {rows.length === 0 ? (
            <p className={classes.none}>{say('None yet.')}</p>
          ) : (
            <ul className={classes.files}>
              {rows.map((row) => (
                <FileCard key={row.id} file={row} of={labels.get(row.subjectId)} />
              ))}
            </ul>
          )}
          {files.data.abilities.add ? (
            <AddFile
              targets={targets.length > 0 ? targets : [{ subjectType, subjectId, label: say('this record') }]}
            />
          ) : null}
        </>
      )}
    </Section>
  );
}
