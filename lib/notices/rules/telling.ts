import type { Role } from '@/lib/platform/permissions';
import { NOTICE_KINDS, type NoticeKind } from '../kinds';
import { mayHearOf, mayReadTalk } from '../policy';
import type { NoticeSubject, Preference } from '../schema';

/** How people are told who have not said otherwise: what cannot wait is mailed at once. */
export const DEFAULT_PREFERENCES: Record<NoticeKind, Preference> = {
  'notices.mentioned': { inApp: true, mail: 'at-once' },
  'notices.commented': { inApp: true, mail: 'daily' },
  'bench.returned': { inApp: true, mail: 'at-once' },
  'catalogue.approved': { inApp: true, mail: 'daily' },
  'queue.assigned': { inApp: true, mail: 'daily' },
  'queue.claim-ending': { inApp: true, mail: 'at-once' },
  'queue.claim-ran-out': { inApp: true, mail: 'daily' },
  'loans.due-soon': { inApp: true, mail: 'daily' },
  'loans.overdue': { inApp: true, mail: 'at-once' },
  'loans.asked-by-link': { inApp: true, mail: 'daily' },
  'permits.expiring': { inApp: true, mail: 'at-once' },
  'permits.report-due': { inApp: true, mail: 'at-once' },
  'salvage.hold-placed': { inApp: true, mail: 'at-once' },
  'exchange.webhook-stopped': { inApp: true, mail: 'at-once' },
};

/** The kinds that come from what people say: their words may be of a sensitive bird. */
const TALK: readonly NoticeKind[] = ['notices.mentioned', 'notices.commented'];

/** Who hears of a comment: those it mentions, then those who follow the record or work on it and did not stop. */
export function listenersOf(comment: {
  authorId: string | null;
  mentioned: readonly string[];
  followers: readonly { personId: string; stopped: boolean }[];
  workers: readonly (string | null)[];
}): { mentioned: string[]; following: string[] } {
  const { authorId, followers } = comment;
  const stopped = new Set(followers.filter((one) => one.stopped).map(({ personId }) => personId));
  const mentioned = [...new Set(comment.mentioned)].filter((id) => id !== authorId);
  const interested = [...followers.map(({ personId }) => personId), ...comment.workers];
  const following = [...new Set(interested)].filter(
    (id): id is string => id !== null && id !== authorId && !stopped.has(id) && !mentioned.includes(id),
  );
  return { mentioned, following };
}

export type Candidate = {
  personId: string;
  active: boolean;
  roles: readonly Role[];
  wish: Preference | null;
};
export type Telling = { personId: string; inApp: boolean; mail: 'none' | 'at-once' | 'daily' };

/**
 * Who is told, and how. Never who did it, whose account is closed, or who may not see the record now. Where this
 * installation cannot mail, what was to be mailed is shown in the app.
 */
export function whoIsTold(
  what: { kind: NoticeKind; subjectType: NoticeSubject; sensitive: boolean; byId: string | null },
  candidates: readonly Candidate[],
  mailWorks: boolean,
): Telling[] {
  return candidates.flatMap(({ personId, active, roles, wish }) => {
    const person = { personId, roles };
    if (!active || personId === what.byId || !mayHearOf(person, what.subjectType)) return [];
    if (TALK.includes(what.kind) && !mayReadTalk(person, what.subjectType, what.sensitive)) return [];
    const { inApp, mail } = wish ?? DEFAULT_PREFERENCES[what.kind];
    const mailed = mail === 'off' || !mailWorks ? 'none' : mail;
    const shown = inApp || (mail !== 'off' && !mailWorks);
    return shown || mailed !== 'none' ? [{ personId, inApp: shown, mail: mailed }] : [];
  });
}

/** Every kind with a person's wish, or what holds without one. */
export const allPreferences = (wishes: readonly (Preference & { kind: string })[]) =>
  NOTICE_KINDS.map((kind) => {
    const { inApp, mail } = wishes.find((wish) => wish.kind === kind) ?? DEFAULT_PREFERENCES[kind];
    return { kind, inApp, mail };
  });
