import { paths } from '@/lib/platform/paths';
import { sayDay, sayDays } from '@/lib/platform/say-dates';
import type { NoticeContent, NoticeKind } from '../kinds';
import type { CommentSubject } from '../schema';

const daysOf = (count: number): string => (count === 1 ? '1 day' : `${count} days`);

/** The words of an id: 'contact-first' → 'contact first'. */
const spaced = (word: string): string => word.replaceAll('-', ' ');

const fromToday = (days: number): string => (days === 0 ? 'today' : `in ${daysOf(days)}`);

/** What a person reads, the same in the app and by mail. One line, whatever the facts hold. */
export function sayNotice(content: NoticeContent): string {
  return sentenceOf(content).replace(/[\p{Cc}\p{Zl}\p{Zp}]+/gu, ' ');
}

function sentenceOf({ kind, facts }: NoticeContent): string {
  switch (kind) {
    case 'notices.mentioned':
      return `${facts.by} mentioned you in a comment on ${facts.what}.`;
    case 'notices.commented':
      return `${facts.by} commented on ${facts.what}.`;
    case 'bench.returned':
      return `Your bench record ${facts.prepNumber} (${facts.bird}) came back from review with ${
        facts.remarks === 1 ? '1 remark' : `${facts.remarks} remarks`
      }.`;
    case 'catalogue.approved':
      return `Your bench record ${facts.prepNumber} (${facts.bird}) was approved: it is catalogued as ${facts.catalogueNumber}.`;
    case 'queue.assigned':
      if (facts.how === 'handed-over') return `${facts.by} handed ${facts.bird} over to you.`;
      if (facts.how === 'co-worker') return `${facts.by} named you to work on ${facts.bird} together.`;
      return `The plan${facts.day === null ? '' : ` for ${sayDay(facts.day)}`} gives you ${facts.bird}.`;
    case 'queue.claim-ending':
      return `Your claim on ${facts.bird} ends ${
        facts.daysLeft === 0 ? 'soon' : `in ${daysOf(facts.daysLeft)}`
      }. Take it out of the freezer, or put it back for somebody else.`;
    case 'queue.claim-ran-out':
      return `Your claim on ${facts.bird} has ended; the bird is in the queue again.`;
    case 'loans.due-soon':
      return `Loan ${facts.loan} to ${facts.institution} is due back ${fromToday(facts.days)}.`;
    case 'loans.overdue':
      return `Loan ${facts.loan} to ${facts.institution} is ${daysOf(facts.days)} overdue.`;
    case 'permits.expiring':
      return facts.days < 0
        ? `Permit ${facts.permit} of ${facts.authority} ended on ${sayDay(facts.on)}.`
        : `Permit ${facts.permit} of ${facts.authority} ends ${fromToday(facts.days)} (${sayDay(facts.on)}).`;
    case 'permits.report-due':
      return facts.days < 0
        ? `The report of permit ${facts.permit} for ${sayDays(facts.fromOn, facts.untilOn)} is ${daysOf(-facts.days)} overdue.`
        : `The report of permit ${facts.permit} for ${sayDays(facts.fromOn, facts.untilOn)} is due ${fromToday(facts.days)} (${sayDay(facts.dueOn)}).`;
    case 'salvage.hold-placed':
      return `${facts.find} is on hold (${spaced(facts.hold)}).${
        facts.tellOutside ? ' Somebody outside must be told: the record says whom.' : ''
      }`;
  }
}

const PAGES: Record<CommentSubject, (id: string) => string> = {
  bird: paths.bird,
  salvage: paths.salvageRecord,
  'bench-record': paths.benchRecord,
  accession: paths.accession,
  permit: paths.permit,
  loan: paths.loan,
  material: paths.material,
};

/** The page that a notice leads to. */
export function noticeHref(kind: NoticeKind, subjectType: CommentSubject, subjectId: string): string {
  const page = PAGES[subjectType](subjectId);
  return kind === 'notices.mentioned' || kind === 'notices.commented' ? `${page}#comments` : page;
}

/** What each kind is called where a person chooses how to be told. */
export const KIND_WORDS: Record<NoticeKind, string> = {
  'notices.mentioned': 'Somebody mentions me in a comment',
  'notices.commented': 'A comment on what I follow or prepared',
  'bench.returned': 'My bench record comes back with remarks',
  'catalogue.approved': 'My bench record is approved',
  'queue.assigned': 'A bird is given to me',
  'queue.claim-ending': 'My claim on a bird ends soon',
  'queue.claim-ran-out': 'My claim on a bird has ended',
  'loans.due-soon': 'A loan is due back soon',
  'loans.overdue': 'A loan is overdue',
  'permits.expiring': 'A permit ends soon, or has ended',
  'permits.report-due': 'A permit report is due, or overdue',
  'salvage.hold-placed': 'A find is put on hold',
};
