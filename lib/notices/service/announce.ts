import 'server-only';
import { randomUUID } from 'node:crypto';
import type { Work } from '@/lib/platform/tx';
import type { NoticeContent } from '../kinds';
import { type Audience, announcement, type NoticeSubjectRef } from '../schema';

export const TELL_TASK = 'notices.tell';

/**
 * Announces something from inside a command: after the commit everybody it is for is told, as they wish, except whoever
 * did it and those who may not see the record. Facts hold numbers and names only: they may leave by mail.
 */
export function announce(work: Work, about: NoticeSubjectRef & NoticeContent & { to: Audience }): void {
  const { collectionId, personId } = work.actor;
  const { subjectType, subjectId, kind, facts, to } = about;
  if ((to.people ?? []).length === 0 && (to.roles ?? []).length === 0) return;
  const payload = announcement.parse({
    id: randomUUID(),
    collectionId,
    kind,
    subjectType,
    subjectId,
    facts,
    to,
    byId: personId,
    at: work.now.toISOString(),
  });
  work.enqueue(TELL_TASK, JSON.parse(JSON.stringify(payload)));
}
