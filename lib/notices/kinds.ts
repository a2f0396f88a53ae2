import { z } from 'zod';

const count = z.number().int();
const byOn = z.object({ by: z.string(), what: z.string() });

/** What is kept of each kind of notice: numbers and names that may leave by mail, never a place or a finder. */
export const NOTICE_FACTS = {
  'notices.mentioned': byOn,
  'notices.commented': byOn,
  'bench.returned': z.object({ prepNumber: z.string(), bird: z.string(), remarks: count }),
  'catalogue.approved': z.object({ prepNumber: z.string(), bird: z.string(), catalogueNumber: z.string() }),
  'queue.assigned': z.object({
    bird: z.string(),
    by: z.string(),
    how: z.enum(['handed-over', 'co-worker', 'day-plan']),
    /** The day that a plan is for. */
    day: z.string().nullable(),
  }),
  'queue.claim-ending': z.object({ bird: z.string(), daysLeft: count }),
  'queue.claim-ran-out': z.object({ bird: z.string() }),
  'loans.due-soon': z.object({ loan: z.string(), institution: z.string(), days: count }),
  'loans.overdue': z.object({ loan: z.string(), institution: z.string(), days: count }),
  /** `link`: for whom the link was made, in the words of the lab; what a stranger wrote does not leave by mail. */
  'loans.asked-by-link': z.object({ loan: z.string(), link: z.string() }),
  /** `days` from today until it ends; below 0 it has ended. */
  'permits.expiring': z.object({ permit: z.string(), authority: z.string(), on: z.string(), days: count }),
  /** `days` from today until it is due; below 0 it is overdue. */
  'permits.report-due': z.object({
    permit: z.string(),
    fromOn: z.string(),
    untilOn: z.string(),
    dueOn: z.string(),
    days: count,
  }),
  /** `tellOutside`: the law or a permit names somebody who must be told; the record says whom. */
  'salvage.hold-placed': z.object({ find: z.string(), hold: z.string(), tellOutside: z.boolean() }),
  'exchange.webhook-stopped': z.object({ webhook: z.string(), deliveries: count }),
} as const;

export type NoticeKind = keyof typeof NOTICE_FACTS;
export type NoticeFacts<K extends NoticeKind> = z.infer<(typeof NOTICE_FACTS)[K]>;
export const NOTICE_KINDS = Object.keys(NOTICE_FACTS) as [NoticeKind, ...NoticeKind[]];
export const noticeKind = z.enum(NOTICE_KINDS);

/** A kind with the facts that belong to it. */
export type NoticeContent = { [K in NoticeKind]: { kind: K; facts: NoticeFacts<K> } }[NoticeKind];

/** @throws ZodError when the facts are not those of the kind. */
export const readContent = (kind: string, facts: unknown): NoticeContent => {
  const known = noticeKind.parse(kind);
  return { kind: known, facts: NOTICE_FACTS[known].parse(facts) } as NoticeContent;
};
