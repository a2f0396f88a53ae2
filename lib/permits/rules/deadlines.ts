import type { CoverageContext } from '../coverage-schema';
import type { RulePack } from '../pack-schema';
import type { ClauseOf, Permit, PermitClause, YearBasis } from '../permit-schema';
import { addDays, addYears, dayInYear, daysBetween } from './dates';
import { type ListMembership, matchSelectors } from './taxa';

export type Period = { fromOn: string; untilOn: string };

/** The clauses in force on a day: as first issued, or as the latest amendment by then left them. */
export function clausesOn(permit: Permit, date: string): PermitClause[] {
  const inForce = permit.amendments
    .filter((amendment) => amendment.effectiveOn <= date)
    .sort((a, b) => a.effectiveOn.localeCompare(b.effectiveOn));
  return inForce.at(-1)?.clauses ?? permit.clauses;
}

export function findClause<K extends PermitClause['kind']>(
  clauses: PermitClause[],
  kind: K,
): ClauseOf<K> | undefined {
  return clausesOfKind(clauses, kind)[0];
}

/** All clauses of one kind; several that allow something add up. */
export function clausesOfKind<K extends PermitClause['kind']>(
  clauses: PermitClause[],
  kind: K,
): ClauseOf<K>[] {
  return clauses.filter((clause): clause is ClauseOf<K> => clause.kind === kind);
}

/** The calendar, fiscal or permit year that holds a day (both ends inclusive). */
export function yearContaining(date: string, year: YearBasis, permitEffectiveOn: string): Period {
  const starts = { calendar: '01-01', permit: permitEffectiveOn.slice(5) };
  const startsOn = year.basis === 'fiscal' ? year.startsOn : starts[year.basis];
  const calendarYear = Number(date.slice(0, 4));
  const thisStart = dayInYear(calendarYear, startsOn);
  const startYear = date >= thisStart ? calendarYear : calendarYear - 1;
  return {
    fromOn: dayInYear(startYear, startsOn),
    untilOn: addDays(dayInYear(startYear + 1, startsOn), -1),
  };
}

/** When the report for a period is due: days after its end, or the first such month and day after it. */
export function reportDueOn(clause: ClauseOf<'report-due'>, period: Period): string {
  if (clause.due.rule === 'days-after') return addDays(period.untilOn, clause.due.days);
  const sameYear = dayInYear(Number(period.untilOn.slice(0, 4)), clause.due.monthDay);
  return sameYear > period.untilOn
    ? sameYear
    : dayInYear(Number(period.untilOn.slice(0, 4)) + 1, clause.due.monthDay);
}

export type DeadlineWarning = {
  code: 'permit-expires' | 'permit-expired' | 'report-due' | 'quota-nearly-used' | 'quota-used';
  permitId: string;
  clauseId: string | null;
  dueOn: string | null;
  message: string;
};

/** How much of a quota the counted birds of one of its years used, in specimens. */
export function countQuotaUse(
  permit: Permit,
  clause: ClauseOf<'quota'>,
  date: string,
  counted: CoverageContext['counted'],
  onList: ListMembership,
): Period & { used: number; maximum: number } {
  const period = yearContaining(date, clause.year, permit.effectiveOn);
  const used = counted
    .filter((take) => take.authorityId === permit.id)
    .filter((take) => take.foundOn >= period.fromOn && take.foundOn <= period.untilOn)
    .filter((take) => matchSelectors(take.taxon, clause.taxa, onList) !== 'no')
    .reduce((sum, take) => sum + take.quantity, 0);
  return { ...period, used, maximum: clause.maximum };
}

function warnExpiry(permit: Permit, today: string, daysAhead: number): DeadlineWarning[] {
  if (permit.expiresOn === null) return [];
  const left = daysBetween(today, permit.expiresOn);
  const base = { permitId: permit.id, clauseId: null, dueOn: permit.expiresOn };
  if (left < 0) {
    return [{ ...base, code: 'permit-expired', message: `${permit.number} expired on ${permit.expiresOn}` }];
  }
  if (left > daysAhead) return [];
  return [{ ...base, code: 'permit-expires', message: `${permit.number} expires in ${left} days` }];
}

/** Warnings ahead of time for one permit: expiry, the next report, quotas at four fifths or full. */
export function listDeadlineWarnings(
  permit: Permit,
  today: string,
  counted: CoverageContext['counted'],
  onList: ListMembership,
  daysAhead = 60,
): DeadlineWarning[] {
  const clauses = clausesOn(permit, today);
  const warnings = warnExpiry(permit, today, daysAhead);
  for (const clause of clauses) {
    if (clause.kind === 'report-due') {
      const current = yearContaining(today, clause.year, permit.effectiveOn);
      const last = yearContaining(addDays(current.fromOn, -1), clause.year, permit.effectiveOn);
      for (const period of [last, current]) {
        if (period.untilOn < permit.effectiveOn) continue;
        const dueOn = reportDueOn(clause, period);
        const left = daysBetween(today, dueOn);
        if (left >= 0 && left <= daysAhead) {
          const message = `The report of ${permit.number} for ${period.fromOn} to ${period.untilOn} is due on ${dueOn}`;
          warnings.push({ code: 'report-due', permitId: permit.id, clauseId: clause.id, dueOn, message });
        }
      }
    }
    if (clause.kind === 'quota') {
      const { used, maximum, untilOn } = countQuotaUse(permit, clause, today, counted, onList);
      if (used * 5 < maximum * 4) continue;
      const code = used >= maximum ? 'quota-used' : 'quota-nearly-used';
      const message = `${used} of ${maximum} used until ${untilOn} (${permit.number})`;
      warnings.push({ code, permitId: permit.id, clauseId: clause.id, dueOn: untilOn, message });
    }
  }
  return warnings;
}

export type RetentionBasis = { acquiredOn: string; permitExpiresOn: string | null };

/**
 * How long the records must be kept: the latest day that any applicable rule or clause asks for, with its
 * source. Null when no rule applies (or the permit has no expiry to count from).
 */
export function retainRecordsUntil(
  basis: RetentionBasis,
  clauses: PermitClause[],
  packs: RulePack[],
): { untilOn: string; source: string } | null {
  const start = {
    expiry: basis.permitExpiresOn,
    acquisition: basis.acquiredOn,
    'calendar-year': `${basis.acquiredOn.slice(0, 4)}-12-31`,
  };
  const rules = [
    ...clauses.flatMap((clause) =>
      clause.kind === 'record-retention' ? [{ ...clause, source: `clause ${clause.id}` }] : [],
    ),
    ...packs.flatMap((pack) => pack.retention.map((rule) => ({ ...rule, source: rule.cite }))),
  ];
  const days = rules.flatMap((rule) => {
    const from = start[rule.after];
    return from === null ? [] : [{ untilOn: addYears(from, rule.years), source: rule.source }];
  });
  return days.reduce<{ untilOn: string; source: string } | null>(
    (latest, day) => (latest === null || day.untilOn > latest.untilOn ? day : latest),
    null,
  );
}

/** Remarks on a permit's own terms against the packs' defaults for its kind (longest term). */
export function reviewPermitTerm(permit: Permit, packs: RulePack[]): { message: string; cite: string }[] {
  return packs
    .filter((pack) => pack.jurisdiction.slice(0, 2) === permit.jurisdiction.slice(0, 2))
    .flatMap((pack) => pack.permitDefaults)
    .filter((rule) => rule.permitKinds.includes(permit.kind) && rule.maximumYears !== null)
    .filter((rule) => {
      const longest = addYears(permit.effectiveOn, rule.maximumYears ?? 0);
      return permit.expiresOn === null || permit.expiresOn > longest;
    })
    .map((rule) => ({
      cite: rule.cite,
      message: `The term is longer than ${rule.maximumYears} years; check the dates on the document`,
    }));
}
