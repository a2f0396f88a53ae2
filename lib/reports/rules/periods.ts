import {
  addDays,
  findClause,
  type Period,
  type Permit,
  reportDueOn,
  yearContaining,
} from '@/lib/permits/public';

type Clauses = Permit['clauses'];
export type ReportingTerms = { effectiveOn: string; expiresOn: string | null; clauses: Clauses };

/** The permit's own year that holds a day: as its report clause says, else the calendar year. */
export function reportPeriod({ clauses, effectiveOn }: ReportingTerms, onDay: string): Period {
  return yearContaining(onDay, findClause(clauses, 'report-due')?.year ?? { basis: 'calendar' }, effectiveOn);
}

/** When the report of a period must be handed in; null when the permit sets no day. */
export function periodDueOn({ clauses }: ReportingTerms, period: Period): string | null {
  const clause = findClause(clauses, 'report-due');
  return clause === undefined ? null : reportDueOn(clause, period);
}

/** Every year of a permit from its first to the one under way (or the one it expired in), newest first. */
export function reportPeriods(terms: ReportingTerms, today: string): Period[] {
  const lastDay = terms.expiresOn !== null && terms.expiresOn < today ? terms.expiresOn : today;
  const periods: Period[] = [];
  for (let day = lastDay; day >= terms.effectiveOn; ) {
    const period = reportPeriod(terms, day);
    periods.push(period);
    day = addDays(period.fromOn, -1);
  }
  return periods;
}
