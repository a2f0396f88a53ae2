import 'server-only';
import { systemActor } from '@/lib/platform/actor';
import { dayIn, dayOf } from '@/lib/platform/clock';
import { withTx } from '@/lib/platform/tx';
import { loanEvents } from '../events';
import { findCollection } from '../repo/loans';
import { findOut, findRegistrars, findSentKeys, insertNotices } from '../repo/reminders';
import { dueReminder, type Reminder } from '../rules';
import { loanStateSchema } from '../schema';
import { readLoanSettings } from '../settings';

const sayReminder = (number: string, institution: string, { kind, days }: Reminder): string => {
  const time = days === 1 ? '1 day' : `${days} days`;
  if (kind === 'overdue') return `Loan ${number} to ${institution} is ${time} overdue.`;
  return days === 0
    ? `Loan ${number} to ${institution} is due back today.`
    : `Loan ${number} to ${institution} is due back in ${time}.`;
};

/**
 * Reminds the registrars, and whoever asked, of loans that are due soon or overdue: each step of the terms once, and
 * after a long sleep the latest only. Returns how many loans were reminded of.
 */
export function remindOfLoans(collectionId: string): Promise<number> {
  return withTx({ actor: systemActor(collectionId) }, async (work) => {
    const collection = await findCollection(work.db, collectionId);
    const { terms } = readLoanSettings(collection.settings);
    const today = dayIn(collection.timeZone, work.now);
    const loans = await findOut(work.db, collectionId);
    const sent = await findSentKeys(
      work.db,
      loans.map(({ id }) => id),
    );
    const registrars = await findRegistrars(work.db, collectionId);
    let reminded = 0;
    for (const loan of loans) {
      const facts = { state: loanStateSchema.parse(loan.state), dueOn: loan.dueOn && dayOf(loan.dueOn) };
      const reminder = dueReminder(facts, today, sent.get(loan.id) ?? [], terms);
      if (reminder === null) continue;
      const message = sayReminder(loan.number, loan.borrower.institution, reminder);
      const people = new Set([...registrars, ...(loan.askedById === null ? [] : [loan.askedById])]);
      await insertNotices(
        work.db,
        [...people].map((personId) => ({
          collectionId,
          personId,
          kind: `loans.${reminder.kind}`,
          subjectType: 'loan',
          subjectId: loan.id,
          message,
        })),
      );
      work.audit(
        loanEvents.make(
          'loans.reminded',
          { subjectType: 'loan', subjectId: loan.id },
          { number: loan.number, ...reminder },
        ),
      );
      reminded += 1;
    }
    return reminded;
  });
}
