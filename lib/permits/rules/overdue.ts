import type { Permit } from '../permit-schema';
import { addDays } from './dates';
import { clausesOfKind, clausesOn, type Period, reportDueOn, yearContaining } from './deadlines';

export type OpenReport = Period & { authorityId: string; clauseId: string; dueOn: string };

const isFiled = (filed: readonly Period[], period: Period) =>
  filed.some((report) => report.fromOn <= period.fromOn && report.untilOn >= period.untilOn);

/**
 * Reports of a permit on periods that have ended and that are not among the signed ones, due or not yet. Periods that
 * ended before the permit was entered here are somebody else's paper and are not asked for.
 * @param enteredOn the day the permit was entered
 * @param filed periods whose report is signed
 */
export function findOpenReports(
  permit: Permit,
  today: string,
  enteredOn: string,
  filed: readonly Period[],
): OpenReport[] {
  const first = enteredOn > permit.effectiveOn ? enteredOn : permit.effectiveOn;
  return clausesOfKind(clausesOn(permit, today), 'report-due').flatMap((clause) => {
    const open: OpenReport[] = [];
    let period = yearContaining(first, clause.year, permit.effectiveOn);
    while (period.untilOn < today) {
      const dueOn = reportDueOn(clause, period);
      const inTerm = permit.expiresOn === null || period.fromOn <= permit.expiresOn;
      if (inTerm && !isFiled(filed, period)) {
        open.push({ ...period, authorityId: permit.id, clauseId: clause.id, dueOn });
      }
      period = yearContaining(addDays(period.untilOn, 1), clause.year, permit.effectiveOn);
    }
    return open;
  });
}

/** Reports that were due before today and are not signed; parameters as for findOpenReports. */
export const findOverdueReports = (...permit: Parameters<typeof findOpenReports>): OpenReport[] =>
  findOpenReports(...permit).filter(({ dueOn }) => dueOn < permit[1]);
