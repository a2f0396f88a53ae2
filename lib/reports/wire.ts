import { z } from 'zod';
import { givenDay } from '@/lib/platform/days';
import { pageOf, pageQuery } from '@/lib/platform/paging';
import { figures } from './rules/figures';
import { explanations, outcomes, reportLine, reportState, salvageReport } from './schema';

/** Requests and answers of the report's routes. */
export const openReportRequest = z.object({
  permitId: z.uuid(),
  /** Any day of the period; the permit's report clause says which year holds it. */
  onDay: givenDay(),
});
export type OpenReportRequest = z.infer<typeof openReportRequest>;

const version = z.int32();

export const explainRequest = z.object({
  version,
  /** One sentence may answer several warnings of a kind. */
  warningIds: z.array(z.string().min(1).max(300)).min(1).max(2000),
  text: z.string().trim().min(1, 'Write the explanation.').max(2000),
});
export type ExplainRequest = z.infer<typeof explainRequest>;

export const readyRequest = z.object({ version });

export const signRequest = z.object({
  version,
  certification: z.literal(true, { error: 'Tick that you certify the report.' }),
});

export const amendReportRequest = z.object({
  version,
  reason: z.string().trim().min(1, 'Say why the report is amended.').max(1000),
});
export type AmendReportRequest = z.infer<typeof amendReportRequest>;

const permitOfReport = z.object({ id: z.uuid(), number: z.string(), authority: z.string() });

export const reportRow = z.object({
  id: z.uuid(),
  permit: permitOfReport,
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
  permit: permitOfReport,
  fromOn: z.string(),
  untilOn: z.string(),
  dueOn: z.string().nullable(),
  standing: z.enum(['overdue', 'due', 'under-way']),
});
export type ReportDue = z.infer<typeof reportDue>;

export const reportDesk = z.object({
  today: z.string(),
  due: z.array(reportDue),
  rows: z.array(reportRow),
  abilities: z.object({ open: z.boolean() }),
});
export type ReportDesk = z.infer<typeof reportDesk>;

const changes = z.array(z.object({ field: z.string(), from: z.unknown(), to: z.unknown() }));

/** What one version of a report says otherwise than another, line by line and row by row. */
export const difference = z.object({
  added: z.array(z.object({ number: z.string(), taxon: z.string() })),
  removed: z.array(z.object({ number: z.string(), taxon: z.string() })),
  changed: z.array(z.object({ number: z.string(), changes })),
  rows: z.array(z.object({ taxon: z.string(), specimenType: z.string(), changes })),
});
export type Difference = z.infer<typeof difference>;

export const reportAbilities = z.object({
  explain: z.boolean(),
  ready: z.boolean(),
  sign: z.boolean(),
  amend: z.boolean(),
});

export const reportRecord = reportRow.extend({
  version,
  amendReason: z.string().nullable(),
  report: salvageReport.omit({ lines: true, movements: true }),
  lineCount: z.number().int(),
  explanations,
  unexplained: z.number().int(),
  certification: z.string(),
  /** Why it cannot be signed yet, though nothing is left to explain; null when it can. */
  obstacle: z.string().nullable(),
  digest: z.string().nullable(),
  auditHead: z.object({ seq: z.number(), digest: z.string() }).nullable(),
  editions: z.array(reportRow.pick({ id: true, edition: true, state: true, signedAt: true })),
  /** Against the edition before; null for the first. */
  difference: difference.nullable(),
  abilities: reportAbilities,
});
export type ReportRecord = z.infer<typeof reportRecord>;

/** A signed report against the database as it is now. */
export const reportCheck = z.object({
  checkedAt: z.string(),
  /** What was frozen still gives the digest that was signed. */
  digestHolds: z.boolean(),
  stillTrue: z.boolean(),
  difference,
});
export type ReportCheck = z.infer<typeof reportCheck>;

export const lineQuery = pageQuery.extend({
  figure: z.enum(figures).optional(),
  taxon: z.string().max(200).optional(),
  specimenType: z.string().max(40).optional(),
  county: z.string().max(200).optional(),
  month: z
    .string()
    .regex(/^\d{4}-\d{2}$/)
    .optional(),
  outcome: z.enum(outcomes).optional(),
  warning: z.string().max(300).optional(),
});
export type LineQuery = z.infer<typeof lineQuery>;

/** `counted` is the number that the filter names, in specimens. */
export const linePage = pageOf(reportLine).extend({
  total: z.number().int(),
  from: z.number().int(),
  counted: z.number().int().nullable(),
});
export type LinePage = z.infer<typeof linePage>;
