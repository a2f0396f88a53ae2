'use client';

import { useQuery } from '@tanstack/react-query';
import { ErrorState } from '@/components/ui/error-state';
import { Loading } from '@/components/ui/loading';
import { say } from '@/lib/platform/words/say';
import { AddFile } from './add-file';
import { FileCard } from './file-card';
import classes from './files.module.css';
import type { FilesSectionProps } from './files-section';
import { filesOptions } from './queries';

/** The photos and documents themselves, and the form that adds more. */
export function FileList({ subjectType, subjectId, targets = [] }: FilesSectionProps) {
  const files = useQuery(filesOptions({ subjectType, subjectId }));
  if (files.error)
    return (
      <ErrorState
        what={say('The files could not be loaded.')}
        error={files.error}
        onRetry={() => void files.refetch()}
      />
    );
  if (files.data === undefined) return <Loading what={say('Loading the files')} lines={3} />;
  const { rows, abilities } = files.data;
  const labels = new Map(targets.map((target) => [target.subjectId, target.label]));
  return (
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
      {abilities.add ? (
        <AddFile
          targets={targets.length > 0 ? targets : [{ subjectType, subjectId, label: say('this record') }]}
        />
      ) : null}
    </>
  );
}
