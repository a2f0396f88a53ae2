import 'server-only';
import { findEventKeys } from '@/lib/audit/public';
import { announce } from '@/lib/notices/public';
import { systemActor } from '@/lib/platform/actor';
import { dayIn, dayOf } from '@/lib/platform/clock';
import { takeTurns, type Work, withTx } from '@/lib/platform/tx';
import { permitEvents } from '../events';
import { findAllPermits, findCollection, type PermitFound } from '../repo/permits';
import { duePermitReminders, type PermitReminder } from '../rules/reminders';
import { toPermit } from './permit-shape';

/** Reminds the permit officers of permits that end and reports that are due; returns how many reminders were sent. */
export function remindOfPermits(collectionId: string): Promise<number> {
  return withTx({ actor: systemActor(collectionId) }, async (work) => {
    await takeTurns(work.db, `permit reminders ${collectionId}`);
    const today = dayIn((await findCollection(work.db, collectionId)).timeZone, work.now);
    const permits = await findAllPermits(work.db, collectionId);
    const sent = await findEventKeys(
      work.db,
      { subjectType: 'permit', kind: 'permits.reminded' },
      permits.map(({ id }) => id),
    );
    let reminded = 0;
    for (const row of permits) {
      const due = duePermitReminders(toPermit(row), today, {
        enteredOn: dayOf(row.createdAt),
        filed: row.reports.map(({ fromOn, toOn }) => ({ fromOn: dayOf(fromOn), untilOn: dayOf(toOn) })),
        renewed: row.replacedBy.length > 0,
        sentKeys: sent.get(row.id) ?? [],
      });
      for (const reminder of due) remind(work, row, reminder);
      reminded += due.length;
    }
    return reminded;
  });
}

function remind(work: Work, row: PermitFound, reminder: PermitReminder): void {
  const { key, what, days } = reminder;
  const about = { subjectType: 'permit', subjectId: row.id } as const;
  const to = { roles: ['permit-officer' as const] };
  if (reminder.what === 'expiring') {
    const facts = { permit: row.number, authority: row.authority, on: reminder.on, days };
    announce(work, { ...about, kind: 'permits.expiring', facts, to });
  } else {
    const { fromOn, untilOn, dueOn } = reminder.report;
    const facts = { permit: row.number, fromOn, untilOn, dueOn, days };
    announce(work, { ...about, kind: 'permits.report-due', facts, to });
  }
  work.audit(permitEvents.make('permits.reminded', about, { number: row.number, key, what, days }));
}
