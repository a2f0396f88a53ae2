import { paths } from '@/lib/platform/paths';
import { sayDay, sayDays } from '@/lib/platform/say-dates';
import { countOf, phrases, say, sayCode } from '@/lib/platform/words/say';
import type { NoticeContent, NoticeKind } from '../kinds';
import type { NoticeSubject } from '../schema';

const daysOf = (count: number): string => countOf(count, 'day');

const fromToday = (days: number): string =>
  days === 0 ? say('today') : say('in {daysOf}', { daysOf: daysOf(days) });

/** What a person reads, the same in the app and by mail. One line, whatever the facts hold. */
export function sayNotice(content: NoticeContent): string {
  return sentenceOf(content).replace(/[\p{Cc}\p{Zl}\p{Zp}]+/gu, ' ');
}

function sentenceOf({ kind, facts }: NoticeContent): string {
  switch (kind) {
    case 'notices.mentioned':
      return say('{by} mentioned you in a comment on {what}.', { by: facts.by, what: facts.what });
    case 'notices.commented':
      return say('{by} commented on {what}.', { by: facts.by, what: facts.what });
    case 'bench.returned':
      return say('Your bench record {prepNumber} ({bird}) came back from review with {x}.', {
        prepNumber: facts.prepNumber,
        bird: facts.bird,
        x: facts.remarks === 1 ? say('1 remark') : say('{remarks} remarks', { remarks: facts.remarks }),
      });
    case 'catalogue.approved':
      return say(
        'Your bench record {prepNumber} ({bird}) was approved: it is catalogued as {catalogueNumber}.',
        { prepNumber: facts.prepNumber, bird: facts.bird, catalogueNumber: facts.catalogueNumber },
      );
    case 'queue.assigned':
      if (facts.how === 'handed-over')
        return say('{by} handed {bird} over to you.', { by: facts.by, bird: facts.bird });
      if (facts.how === 'co-worker')
        return say('{by} named you to work on {bird} together.', { by: facts.by, bird: facts.bird });
      return say('The plan{x} gives you {bird}.', {
        x: facts.day === null ? '' : say(' for {day}', { day: sayDay(facts.day) }),
        bird: facts.bird,
      });
    case 'queue.claim-ending':
      return say(
        'Your claim on {bird} ends {x}. Take it out of the freezer, or put it back for somebody else.',
        {
          bird: facts.bird,
          x: facts.daysLeft === 0 ? say('soon') : say('in {daysOf}', { daysOf: daysOf(facts.daysLeft) }),
        },
      );
    case 'queue.claim-ran-out':
      return say('Your claim on {bird} has ended; the bird is in the queue again.', { bird: facts.bird });
    case 'loans.due-soon':
      return say('Loan {loan} to {institution} is due back {fromToday}.', {
        loan: facts.loan,
        institution: facts.institution,
        fromToday: fromToday(facts.days),
      });
    case 'loans.overdue':
      return say('Loan {loan} to {institution} is {daysOf} overdue.', {
        loan: facts.loan,
        institution: facts.institution,
        daysOf: daysOf(facts.days),
      });
    case 'loans.asked-by-link':
      return say(
        'Loan {loan} was asked for from outside, through the link for {link}. Choose its materials and decide.',
        { loan: facts.loan, link: facts.link },
      );
    case 'permits.expiring':
      return facts.days < 0
        ? say('Permit {permit} of {authority} ended on {day}.', {
            permit: facts.permit,
            authority: facts.authority,
            day: sayDay(facts.on),
          })
        : say('Permit {permit} of {authority} ends {fromToday} ({day}).', {
            permit: facts.permit,
            authority: facts.authority,
            fromToday: fromToday(facts.days),
            day: sayDay(facts.on),
          });
    case 'permits.report-due':
      return facts.days < 0
        ? say('The report of permit {permit} for {days} is {daysOf} overdue.', {
            permit: facts.permit,
            days: sayDays(facts.fromOn, facts.untilOn),
            daysOf: daysOf(-facts.days),
          })
        : say('The report of permit {permit} for {days} is due {fromToday} ({day}).', {
            permit: facts.permit,
            days: sayDays(facts.fromOn, facts.untilOn),
            fromToday: fromToday(facts.days),
            day: sayDay(facts.dueOn),
          });
    case 'salvage.hold-placed':
      return say('{find} is on hold ({spaced}).{x}', {
        find: facts.find,
        spaced: sayCode(facts.hold),
        x: facts.tellOutside ? say(' Somebody outside must be told: the record says whom.') : '',
      });
    case 'exchange.webhook-stopped':
      return say('The webhook {webhook} was switched off: {deliveries} deliveries in a row did not arrive.', {
        webhook: facts.webhook,
        deliveries: facts.deliveries,
      });
  }
}

const PAGES: Record<NoticeSubject, (id: string) => string> = {
  bird: paths.bird,
  salvage: paths.salvageRecord,
  'bench-record': paths.benchRecord,
  accession: paths.accession,
  permit: paths.permit,
  loan: paths.loan,
  material: paths.material,
  webhook: () => paths.webhooks,
};

/** The page that a notice leads to. */
export function noticeHref(kind: NoticeKind, subjectType: NoticeSubject, subjectId: string): string {
  const page = PAGES[subjectType](subjectId);
  return kind === 'notices.mentioned' || kind === 'notices.commented' ? `${page}#comments` : page;
}

/** What each kind is called where a person chooses how to be told. */
export const KIND_WORDS: Record<NoticeKind, string> = phrases({
  'notices.mentioned': 'Somebody mentions me in a comment',
  'notices.commented': 'A comment on what I follow or prepared',
  'bench.returned': 'My bench record comes back with remarks',
  'catalogue.approved': 'My bench record is approved',
  'queue.assigned': 'A bird is given to me',
  'queue.claim-ending': 'My claim on a bird ends soon',
  'queue.claim-ran-out': 'My claim on a bird has ended',
  'loans.due-soon': 'A loan is due back soon',
  'loans.overdue': 'A loan is overdue',
  'loans.asked-by-link': 'A loan is asked for through a link',
  'permits.expiring': 'A permit ends soon, or has ended',
  'permits.report-due': 'A permit report is due, or overdue',
  'salvage.hold-placed': 'A find is put on hold',
  'exchange.webhook-stopped': 'A webhook is switched off',
});
