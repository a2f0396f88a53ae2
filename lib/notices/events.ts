import { z } from 'zod';
import { defineEvents } from '@/lib/platform/events';
import { noticeKind } from './kinds';
import { preference } from './schema';

/** What was said is not in it: a comment can be withdrawn, and free words may say where a sensitive bird was found. */
const comment = z.object({ commentId: z.uuid(), mentions: z.number().int(), field: z.string().nullable() });

export const noticeEvents = defineEvents({
  'notices.comment-written': comment,
  'notices.comment-edited': comment,
  'notices.comment-withdrawn': z.object({ commentId: z.uuid() }),
  'notices.followed': z.object({ following: z.boolean() }),
  'notices.told': z.object({ kind: noticeKind, people: z.number().int() }),
  'notices.mailed': z.object({ how: z.enum(['at-once', 'daily']), notices: z.number().int() }),
  'notices.read-marked': z.object({ notices: z.number().int(), read: z.boolean() }),
  'notices.preferences-set': z.object({ to: z.record(z.string(), preference) }),
});
