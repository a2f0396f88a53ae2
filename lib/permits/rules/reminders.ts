import type { Permit } from '../permit-schema';
import { daysBetween } from './dates';
import { findOpenReports, type OpenReport } from './overdue';

/** Days before (below 0) and after an end or a due day on which the officers are reminded. */
const EXPIRY_STEPS = [-60, -30, -7, 1] as const;
const REPORT_STEPS = [-30, -7, 1, 15] as const;

export type PermitReminder = { key: string; days: number } & (
  | { what: 'expiring'; on: string }
  | { what: 'report-due'; report: OpenReport }
);

/** The latest step that was reached; null before the first. */
const reached = (steps: readonly number[], late: number): number | null =>
  steps.filter((step) => step <= late).at(-1) ?? null;

/**
 * What the officers are to be reminded of today: each step once, after a long sleep the latest only. A permit that was
 * renewed is left to end.
 * @param sentKeys keys of the reminders that were sent for this permit
 */
export function duePermitReminders(
  permit: Permit,
  today: string,
  known: {
    enteredOn: string;
    filed: Parameters<typeof findOpenReports>[3];
    renewed: boolean;
    sentKeys: readonly string[];
  },
): PermitReminder[] {
  const due: PermitReminder[] = [];
  if (permit.expiresOn !== null && !known.renewed) {
    const days = daysBetween(today, permit.expiresOn);
    const step = reached(EXPIRY_STEPS, -days);
    if (step !== null)
      due.push({ key: `expiring:${permit.expiresOn}:${step}`, days, what: 'expiring', on: permit.expiresOn });
  }
  for (const report of findOpenReports(permit, today, known.enteredOn, known.filed)) {
    const days = daysBetween(today, report.dueOn);
    const step = reached(REPORT_STEPS, -days);
    if (step !== null)
      due.push({
        key: `report:${report.clauseId}:${report.untilOn}:${report.dueOn}:${step}`,
        days,
        what: 'report-due',
        report,
      });
  }
  return due.filter(({ key }) => !known.sentKeys.includes(key));
}
