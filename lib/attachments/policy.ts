import { may, type Role } from '@/lib/platform/permissions';

type Reader = { personId: string | null; roles: readonly Role[]; scopes?: readonly string[] };

/** What is known of a file's subject when somebody wants to see it. */
export type FileFacts = {
  subjectType: string;
  isPicture: boolean;
  /** The subject's taxon is one whose exact places are generalised. */
  sensitive: boolean;
  /** The bird is catalogued. */
  approved: boolean;
};

/** A visitor: sees copies of pictures of catalogued birds, nothing else. */
const isVisitor = (reader: Reader): boolean => !may(reader, 'attachments.see', { approved: false });

/** Whether this person may see the file at all; a document may name the place of a sensitive bird. */
export function maySeeFile(reader: Reader, file: FileFacts): boolean {
  if (!may(reader, 'attachments.see', { approved: file.approved })) return false;
  if (isVisitor(reader)) return isPublicPicture(file);
  return file.isPicture || maySeePlace(reader, file);
}

/** A picture whose copy without metadata everybody with read access may see. */
export const isPublicPicture = (file: FileFacts): boolean =>
  file.isPicture && file.subjectType === 'bird' && file.approved;

/** The file as it was handed in, with all that the camera wrote into it. */
export const maySeeOriginal = (reader: Reader, file: FileFacts): boolean =>
  maySeeFile(reader, file) && !isVisitor(reader) && maySeePlace(reader, file);

/** Names and captions are free words: of a sensitive bird they may say where. */
export const maySeeWords = (reader: Reader, file: FileFacts): boolean =>
  isVisitor(reader) ? !file.sensitive : maySeePlace(reader, file);

const maySeePlace = (reader: Reader, file: FileFacts): boolean =>
  !file.sensitive || may(reader, 'place.exact');
