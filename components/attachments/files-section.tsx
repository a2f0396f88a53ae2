'use client';

import { useQuery } from '@tanstack/react-query';
import { Section } from '@/components/ui/facts';
import { whenSeen } from '@/components/ui/later';
import type { AttachmentSubject } from '@/lib/attachments/schema';
import { countOf, say } from '@/lib/platform/words/say';
import { type FileSubject, filesOptions } from './queries';

const FileList = whenSeen(() => import('./file-list').then((module) => module.FileList), 3);

export type LabelledSubject = FileSubject & { label: string };

export type FilesSectionProps = {
  subjectType: AttachmentSubject;
  subjectId: string;
  /** What a new file may belong to, where that is more than the record itself (the lines of a loan). */
  targets?: readonly LabelledSubject[];
};

/** Photos and documents of a record. */
export function FilesSection(props: FilesSectionProps) {
  const { subjectType, subjectId } = props;
  const { data } = useQuery(filesOptions({ subjectType, subjectId }));
  const count = data?.rows.length ?? 0;
  return (
    <Section
      id="files"
      title={say('Photos and documents')}
      note={count === 0 ? undefined : countOf(count, 'file')}
    >
      <FileList {...props} />
    </Section>
  );
}
