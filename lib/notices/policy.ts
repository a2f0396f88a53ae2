import { may, type Permission, type Role } from '@/lib/platform/permissions';
import { NOTICE_SUBJECTS, type NoticeSubject } from './schema';

type Reader = { personId: string | null; roles: readonly Role[]; scopes?: readonly string[] };

/** What one must be allowed to see to hear of each kind of record. */
export const SUBJECT_PERMISSION: Record<NoticeSubject, Permission> = {
  bird: 'salvage.see',
  salvage: 'salvage.see',
  'bench-record': 'bench.see',
  accession: 'accessions.see',
  permit: 'permits.see',
  loan: 'loans.see',
  material: 'materials.see',
  webhook: 'webhooks.manage',
};

/** Whether notices about such a record may reach this person at all. */
export const mayHearOf = (reader: Reader, type: NoticeSubject): boolean =>
  may(reader, 'notices.see') && may(reader, SUBJECT_PERMISSION[type]);

/** The kinds of record of which this person may hear now: roles may have changed since a notice was made. */
export const hearableSubjects = (reader: Reader): NoticeSubject[] =>
  NOTICE_SUBJECTS.filter((type) => mayHearOf(reader, type));

export const maySeeComments = (reader: Reader, type: NoticeSubject): boolean =>
  may(reader, 'comments.see') && may(reader, SUBJECT_PERMISSION[type]);

/** Free words about a sensitive bird may say where it was found: others' are for those who may know the place. */
export const maySeeWordsOfOthers = (reader: Reader, sensitive: boolean): boolean =>
  !sensitive || may(reader, 'place.exact');

/** Whether a person may read what others say about a record, and so be mentioned there. */
export const mayReadTalk = (reader: Reader, type: NoticeSubject, sensitive: boolean): boolean =>
  maySeeComments(reader, type) && maySeeWordsOfOthers(reader, sensitive);
