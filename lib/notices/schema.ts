import { z } from 'zod';
import { chosenBirds } from '@/lib/platform/bulk-wire';
import { pageOf, pageQuery } from '@/lib/platform/paging';
import { ROLES } from '@/lib/platform/permissions';
import { phrases } from '@/lib/platform/words/say';
import { noticeKind } from './kinds';

/** Records that one comments on and follows. */
export const COMMENT_SUBJECTS = [
  'bird',
  'salvage',
  'bench-record',
  'accession',
  'permit',
  'loan',
  'material',
] as const;
export type CommentSubject = (typeof COMMENT_SUBJECTS)[number];
export const commentSubject = z.enum(COMMENT_SUBJECTS);

/** Records of which notices tell: more than those one comments on. */
export const NOTICE_SUBJECTS = [...COMMENT_SUBJECTS, 'webhook'] as const;
export type NoticeSubject = (typeof NOTICE_SUBJECTS)[number];
export const noticeSubject = z.enum(NOTICE_SUBJECTS);
export const noticeSubjectRef = z.object({ subjectType: noticeSubject, subjectId: z.uuid() });
export type NoticeSubjectRef = z.infer<typeof noticeSubjectRef>;

export const LONGEST_COMMENT = 4000;
export const MOST_MENTIONS = 20;

export const subjectRef = z.object({ subjectType: commentSubject, subjectId: z.uuid() });
export type Subject = z.infer<typeof subjectRef>;

const commentText = phrases(
  z
    .string()
    .trim()
    .min(1, 'Write something.')
    .max(LONGEST_COMMENT, `A comment has at most ${LONGEST_COMMENT} characters.`),
);

export const commentRequest = subjectRef.extend({
  text: commentText,
  field: z.string().trim().min(1).max(60).nullable().default(null),
});
export type CommentRequest = z.output<typeof commentRequest>;
export const commentEdit = z.object({ version: z.int32(), text: commentText });
export const commentWithdrawal = z.object({ version: z.int32() });

export const commentListQuery = subjectRef.extend(pageQuery.shape);
export type CommentListQuery = z.output<typeof commentListQuery>;

const named = z.object({ id: z.uuid(), name: z.string() });

export const commentRow = z.object({
  id: z.uuid(),
  subjectType: commentSubject,
  subjectId: z.uuid(),
  /** What it was written on, where that is not the record whose list this is. */
  of: z.string().nullable(),
  author: named,
  field: z.string().nullable(),
  /** Mentions stand in it as "@[id]"; null once withdrawn. */
  text: z.string().nullable(),
  /** The people it mentions. */
  people: z.array(named),
  createdAt: z.string(),
  editedAt: z.string().nullable(),
  withdrawnAt: z.string().nullable(),
  version: z.int32(),
  abilities: z.object({ change: z.boolean() }),
});
export type CommentRow = z.infer<typeof commentRow>;

/** Newest first. */
export const commentPage = pageOf(commentRow).extend({
  /** Comments of others that this reader may not see: they may say where a sensitive bird was found. */
  withheld: z.number().int(),
  following: z.boolean(),
  /** What is said here may not reach everybody: the record is of a sensitive bird. */
  sensitive: z.boolean(),
  abilities: z.object({ write: z.boolean() }),
});
export type CommentPage = z.infer<typeof commentPage>;

/** Whom one may mention on a record: everybody who may read its comments. */
export const readersQuery = subjectRef;
export const readers = z.object({ people: z.array(named) });

export const followRequest = subjectRef.extend({ follow: z.boolean() });
export type FollowRequest = z.output<typeof followRequest>;
/** Follows several birds at once, or stops. */
export const followBirdsRequest = chosenBirds.extend({ follow: z.boolean() });
export type FollowBirdsRequest = z.output<typeof followBirdsRequest>;
export const followAnswer = z.object({ following: z.boolean() });

export const noticeListQuery = pageQuery.extend({
  show: z.enum(['all', 'unread']).default('all'),
});
export type NoticeListQuery = z.output<typeof noticeListQuery>;

export const noticeRow = z.object({
  id: z.uuid(),
  kind: noticeKind,
  sentence: z.string(),
  href: z.string(),
  createdAt: z.string(),
  readAt: z.string().nullable(),
});
export type NoticeRow = z.infer<typeof noticeRow>;
export const noticePage = pageOf(noticeRow).extend({ unread: z.number().int() });
export type NoticePage = z.infer<typeof noticePage>;

export const readRequest = z.object({ read: z.boolean() });
/** Everything up to the newest notice that the person saw: what came since stays unread. */
export const readAllRequest = z.object({ until: z.iso.datetime() });

export const MAIL_CHOICES = ['off', 'at-once', 'daily'] as const;
export type MailChoice = (typeof MAIL_CHOICES)[number];
export const preference = z.object({ inApp: z.boolean(), mail: z.enum(MAIL_CHOICES) });
export type Preference = z.infer<typeof preference>;

export const preferenceRow = preference.extend({ kind: noticeKind });
export const preferences = z.object({
  rows: z.array(preferenceRow),
  /** This installation has a mail server. */
  mailWorks: z.boolean(),
  /** Where mail goes. */
  address: z.string(),
});
export type Preferences = z.infer<typeof preferences>;
export const preferencesRequest = z.object({ rows: z.array(preferenceRow).min(1).max(50) });
export type PreferencesRequest = z.output<typeof preferencesRequest>;

/** Whom an announcement is for: people by id, and everybody who has one of these roles. */
export const audience = z.object({
  people: z.array(z.uuid()).default([]),
  roles: z.array(z.enum(ROLES)).default([]),
});
export type Audience = z.input<typeof audience>;

/** What the outbox carries from the command that announced something. */
export const announcement = noticeSubjectRef.extend({
  id: z.uuid(),
  collectionId: z.uuid(),
  kind: noticeKind,
  facts: z.record(z.string(), z.unknown()),
  to: audience,
  /** Who did it: never told of it. */
  byId: z.uuid().nullable(),
  at: z.iso.datetime(),
});
export type Announcement = z.output<typeof announcement>;
