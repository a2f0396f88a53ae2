import 'server-only';
import { findEventKeys } from '@/lib/audit/public';
import { announce } from '@/lib/notices/public';
import { systemActor } from '@/lib/platform/actor';
import { dayIn, dayOf } from '@/lib/platform/clock';
import { takeTurns, withTx } from '@/lib/platform/tx';
import { loanEvents } from '../events';
import { findCollection } from '../repo/loans';
import { findOut } from '../repo/reminders';
import { dueReminder } from '../rules';
import { loanStateSchema } from '../schema';
import { readLoanSettings } from '../settings';

/**
 * Reminds the registrars, and whoever asked, of loans that are due soon or overdue: each step of the terms once, and
 * after a long sleep the latest only. Returns how many loans were reminded of.
 */
export function remindOfLoans(collectionId: string): Promise<number> {
  return withTx({ actor: systemActor(collectionId) }, async (work) => {
    await takeTurns(work.db, `loan reminders ${collectionId}`);
    const collection = await findCollection(work.db, collectionId);
    const { terms } = readLoanSettings(collection.settings);
    const today = dayIn(collection.timeZone, work.now);
    const loans = await findOut(work.db, collectionId);
    const sent = await findEventKeys(
      work.db,
      { subjectType: 'loan', kind: 'loans.reminded' },
      loans.map(({ id }) => id),
    );
    let reminded = 0;
    for (const loan of loans) {
      const facts = { state: loanStateSchema.parse(loan.state), dueOn: loan.dueOn && dayOf(loan.dueOn) };
      const reminder = dueReminder(facts, today, sent.get(loan.id) ?? [], terms);
      if (reminder === null) continue;
      announce(work, {
        subjectType: 'loan',
        subjectId: loan.id,
        kind: `loans.${reminder.kind}`,
        facts: { loan: loan.number, institution: loan.borrower.institution, days: reminder.days },
        to: { roles: ['registrar'], people: loan.askedById === null ? [] : [loan.askedById] },
      });
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
