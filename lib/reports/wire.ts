import { z } from 'zod';
import { pageOf, pageQuery } from '@/lib/platform/paging';
import { outcomes, reportLine, reportState, salvageReport } from './schema';

/** Requests and answers of the report's routes. */
export const openReportRequest = z.object({
  permitId: z.uuid(),
  /** Any day of the period; the permit's report clause says which year holds it. */
  onDay: z.iso.date(),
});

export const explainRequest = z.object({
  version: z.number().int(),
  warningId: z.string().min(1).max(300),
  text: z.string().trim().min(1, 'Write the explanation.').max(2000),
});

export const versionRequest = z.object({ version: z.number().int() });

export const signRequest = z.object({
  version: z.number().int(),
  certification: z.literal(true, { error: 'Tick that you certify the report.' }),
});

export const amendReportRequest = z.object({
  version: z.number().int(),
  reason: z.string().trim().min(1, 'Say why the report is amended.').max(1000),
});

export const explanation = z.object({ text: z.string(), by: z.string(), at: z.string() });
export const explanations = z.record(z.string(), explanation);

export const reportRow = z.object({
  id: z.uuid(),
  permit: z.object({ id: z.uuid(), number: z.string(), authority: z.string() }),
  fromOn: z.string(),
  untilOn: z.string(),
  edition: z.number().int(),
  state: reportState,
  dueOn: z.string().nullable(),
  signedAt: z.string().nullable(),
  signedBy: z.string().nullable(),
});
export type ReportRow = z.infer<typeof reportRow>;

/** A permit's year that ended, or is under way, without a report. */
export const reportDue = z.object({
  permit: z.object({ id: z.uuid(), number: z.string(), authority: z.string() }),
  fromOn: z.string(),
  untilOn: z.string(),
  dueOn: z.string().nullable(),
});
export const reportDesk = z.object({
  due: z.array(reportDue),
  rows: z.array(reportRow),
  abilities: z.object({ open: z.boolean() }),
});
export type ReportDesk = z.infer<typeof reportDesk>;

export const difference = z.object({
  added: z.array(z.string()),
  removed: z.array(z.string()),
  changed: z.array(
    z.object({
      number: z.string(),
      changes: z.array(z.object({ field: z.string(), from: z.unknown(), to: z.unknown() })),
    }),
  ),
});

export const reportRecord = reportRow.extend({
  version: z.number().int(),
  amendReason: z.string().nullable(),
  report: salvageReport.omit({ lines: true, movements: true }),
  lineCount: z.number().int(),
  explanations,
  unexplained: z.number().int(),
  digest: z.string().nullable(),
  auditHead: z.object({ seq: z.number(), digest: z.string() }).nullable(),
  editions: z.array(reportRow.pick({ id: true, edition: true, state: true, signedAt: true })),
  difference: difference.nullable(),
  /** Of a signed report: whether the database still gives the same. Null while it is open. */
  stillTrue: z.boolean().nullable(),
  abilities: z.object({ explain: z.boolean(), ready: z.boolean(), sign: z.boolean(), amend: z.boolean() }),
});
export type ReportRecord = z.infer<typeof reportRecord>;

export const lineQuery = pageQuery.extend({
  taxon: z.string().max(200).optional(),
  county: z.string().max(200).optional(),
  month: z
    .string()
    .regex(/^\d{4}-\d{2}$/)
    .optional(),
  outcome: z.enum(outcomes).optional(),
});
export type LineQuery = z.infer<typeof lineQuery>;
export const linePage = pageOf(reportLine);
