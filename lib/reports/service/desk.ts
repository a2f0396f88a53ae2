import 'server-only';
import { type Actor, authorise } from '@/lib/platform/actor';
import { dayIn, dayOf, now } from '@/lib/platform/clock';
import { db } from '@/lib/platform/db';
import { may } from '@/lib/platform/permissions';
import { termsOf } from '../book';
import { findTimeZone } from '../repo/ledger';
import { findPermits, findReportPeriods, findReports } from '../repo/reports';
import { periodDueOn, reportPeriods } from '../rules/periods';
import type { ReportDesk, ReportDue } from '../wire';
import { permitOf, toRows } from './shapes';

/** What is due for each permit and year, soonest first, and the reports there are. */
export async function showReportDesk(actor: Actor): Promise<ReportDesk> {
  authorise(actor, 'reports.see');
  const { collectionId } = actor;
  const [permits, periods, found, timeZone] = await Promise.all([
    findPermits(collectionId),
    findReportPeriods(collectionId),
    findReports(collectionId),
    findTimeZone(db(), collectionId),
  ]);
  const today = dayIn(timeZone, now());
  const reported = new Set(periods.map((row) => `${row.permitId} ${dayOf(row.fromOn)} ${dayOf(row.toOn)}`));
  const due = permits.flatMap((permit) => {
    const terms = termsOf(permit);
    return reportPeriods(terms, today)
      .filter(({ fromOn, untilOn }) => !reported.has(`${permit.id} ${fromOn} ${untilOn}`))
      .map((period): ReportDue => {
        const dueOn = periodDueOn(terms, period);
        return { permit: permitOf(permit), ...period, dueOn, standing: standingOf(period, dueOn, today) };
      });
  });
  return {
    today,
    due: due.sort((a, b) => (a.dueOn ?? a.untilOn).localeCompare(b.dueOn ?? b.untilOn)),
    rows: await toRows(db(), found),
    abilities: { open: may(actor, 'reports.make') },
  };
}

function standingOf({ untilOn }: { untilOn: string }, dueOn: string | null, today: string) {
  if (untilOn >= today) return 'under-way';
  return dueOn !== null && dueOn < today ? 'overdue' : 'due';
}
