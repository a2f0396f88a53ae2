import { z } from 'zod';
import { calendarDay, specimenType } from '@/lib/permits/schema';

export const reportStates = ['open', 'ready', 'signed', 'amended'] as const;
export const reportState = z.enum(reportStates);
export type ReportState = z.infer<typeof reportState>;

const taxonName = z.string().trim().min(1);
const eventBase = {
  eventId: z.string().min(1),
  birdId: z.string().min(1),
  authorityId: z.string().min(1),
  on: calendarDay.describe('the day it counts: for a salvage the latest possible day of finding'),
  recordedAt: z.iso.datetime({ offset: true }),
};
const quantity = z.int().positive().default(1);

/** What happens to the stock of an authority, one dated event at a time; events are only ever added. */
export const stockEvent = z.discriminatedUnion('kind', [
  z.object({ ...eventBase, kind: z.literal('salvaged'), taxon: taxonName, quantity }),
  z.object({
    ...eventBase,
    kind: z.literal('received'),
    taxon: taxonName,
    quantity,
    from: z.string().min(1),
    fromAuthority: z.string().nullable(),
  }),
  z.object({
    ...eventBase,
    kind: z.literal('corrected'),
    taxon: taxonName,
    delta: z.int().refine((value) => value !== 0, 'a correction of 0 corrects nothing'),
    reason: z.string().min(1),
  }),
  z.object({ ...eventBase, kind: z.literal('identified-anew'), fromTaxon: taxonName, toTaxon: taxonName }),
  z.object({
    ...eventBase,
    kind: z.literal('transferred'),
    quantity,
    recipient: z.string().min(1),
    recipientAuthority: z.string().nullable(),
  }),
  z.object({
    ...eventBase,
    kind: z.literal('destroyed'),
    quantity,
    method: z.string().nullable(),
    witness: z.string().nullable(),
  }),
  z.object({
    ...eventBase,
    kind: z.literal('released'),
    quantity,
    to: z.string().min(1),
    instruction: z.string().nullable(),
  }),
  z.object({ ...eventBase, kind: z.literal('catalogued'), quantity, catalogNumber: z.string().min(1) }),
  z.object({ ...eventBase, kind: z.literal('prepared'), products: z.array(z.string()) }),
  z.object({ ...eventBase, kind: z.literal('lent'), borrower: z.string().min(1) }),
  z.object({ ...eventBase, kind: z.literal('loan-returned') }),
]);
export type StockEvent = z.infer<typeof stockEvent>;

export const specialStanding = z.enum(['eagle', 'listed', 'out-of-place', 'out-of-term']);

/** What the report says of a bird beside its events. */
export const ledgerBird = z.object({
  birdId: z.string().min(1),
  number: z.string().min(1),
  parentBirdId: z.string().nullable().default(null),
  specimenType,
  foundEarliestOn: calendarDay,
  foundLatestOn: calendarDay,
  country: z.string(),
  subdivision: z.string().nullable(),
  county: z.string().nullable(),
  cause: z.string(),
  salvager: z.string().nullable(),
  bandNumber: z.string().nullable().default(null),
  bandReportedOn: calendarDay.nullable().default(null),
  special: z.array(specialStanding).default([]),
  separateAuthority: z.string().nullable().default(null),
});
export type LedgerBird = z.infer<typeof ledgerBird>;

export const holdingPlaces = [
  'freezer',
  'preparation',
  'cleaning',
  'catalogued',
  'on-loan',
  'missing',
] as const;
/** Where the specimens of a bird are on the closing day, counted on the shelf and not from the events. */
export const holding = z.object({
  birdId: z.string(),
  where: z.enum(holdingPlaces),
  quantity: z.int().nonnegative(),
  description: z.string().default(''),
});
export type Holding = z.infer<typeof holding>;

export const reportAuthority = z.object({
  id: z.string(),
  number: z.string(),
  title: z.string(),
  effectiveOn: calendarDay.nullable(),
  expiresOn: calendarDay.nullable(),
  cataloguingIsDisposition: z.boolean().nullable(),
});

export const stockCount = z.object({ taxon: taxonName, specimenType, quantity: z.int() });
export type StockCount = z.infer<typeof stockCount>;

/** The last accepted version of the period before: its closing stock, and until when it had heard of events. */
export const previousReport = z.object({
  versionId: z.string(),
  recordedThrough: z.iso.datetime({ offset: true }),
  closing: z.array(stockCount),
});

export const ledgerInput = z.object({
  authority: reportAuthority,
  period: z
    .object({ fromOn: calendarDay, untilOn: calendarDay })
    .refine((period) => period.fromOn <= period.untilOn, 'the period ends before it begins'),
  recordedThrough: z.iso.datetime({ offset: true }),
  birds: z.array(ledgerBird),
  events: z.array(stockEvent),
  previous: previousReport.nullable(),
  holdings: z.array(holding).nullable(),
});
export type LedgerInput = z.infer<typeof ledgerInput>;

export const columns = [
  'salvaged',
  'received',
  'corrections',
  'reclassifiedIn',
  'reclassifiedOut',
  'transferred',
  'destroyed',
  'released',
  'catalogued',
] as const;
export type Column = (typeof columns)[number];

/** One signed step of the stock of one taxon; a changed identification makes two that cancel. */
export const movement = z.object({
  eventId: z.string(),
  birdId: z.string(),
  on: calendarDay,
  column: z.enum(columns),
  taxon: taxonName,
  specimenType,
  delta: z.int(),
});
export type Movement = z.infer<typeof movement>;

export const outcomes = [
  'on-hand',
  'transferred',
  'destroyed',
  'released',
  'catalogued',
  'corrected-away',
] as const;

/** A bird's one line. opening + late + acquired + corrections − disposed = onHand. */
export const reportLine = z.object({
  ...ledgerBird.omit({ parentBirdId: true, bandReportedOn: true }).shape,
  taxon: taxonName,
  /** Its name when the period began: by what the previous report knew, and by what is known now. */
  taxonThen: taxonName.nullable(),
  taxonAtOpening: taxonName.nullable(),
  origin: z.enum(['carried-over', 'late-entry', 'salvaged', 'received', 'correction']),
  originOn: calendarDay.nullable(),
  opening: z.int(),
  late: z.int(),
  acquired: z.int(),
  corrections: z.int(),
  disposed: z.int(),
  onHand: z.int(),
  outcome: z.enum(outcomes),
  outcomeOn: calendarDay.nullable(),
  outcomeDetail: z.string(),
  identificationChanges: z.array(z.object({ on: calendarDay, fromTaxon: taxonName, toTaxon: taxonName })),
});
export type ReportLine = z.infer<typeof reportLine>;

const columnCounts = {
  opening: z.int(),
  late: z.int(),
  salvaged: z.int(),
  received: z.int(),
  corrections: z.int(),
  reclassifiedIn: z.int(),
  reclassifiedOut: z.int(),
  transferred: z.int(),
  destroyed: z.int(),
  released: z.int(),
  catalogued: z.int(),
  onHand: z.int(),
};
/** A taxon and specimen type: what came, what went, what is there. Disposals are counted as positive numbers. */
export const reportRow = z.object({ taxon: taxonName, specimenType, ...columnCounts });
export type ReportRow = z.infer<typeof reportRow>;
export const reportCounts = z.object(columnCounts);
export type ReportCounts = z.infer<typeof reportCounts>;

export const groupTotal = z.object({
  key: z.string(),
  acquired: z.int(),
  disposed: z.int(),
  onHand: z.int().nullable(),
});

export const reportWarning = z.object({
  id: z.string(),
  code: z.string(),
  message: z.string(),
  birdIds: z.array(z.string()),
  mustExplain: z.boolean(),
});
export type ReportWarning = z.infer<typeof reportWarning>;

/** One arithmetic rule, checked: true, false, or null when there was nothing to check it against. */
export const ruleCheck = z.object({
  rule: z.int().min(1).max(9),
  title: z.string(),
  holds: z.boolean().nullable(),
  details: z.array(z.string()),
});
export type RuleCheck = z.infer<typeof ruleCheck>;

export const salvageReport = z.object({
  authority: reportAuthority,
  period: z.object({ fromOn: calendarDay, untilOn: calendarDay }),
  recordedThrough: z.string(),
  previousVersionId: z.string().nullable(),
  nil: z.boolean(),
  lines: z.array(reportLine),
  movements: z.array(movement),
  rows: z.array(reportRow),
  total: reportCounts,
  equation: z.string(),
  byCounty: z.array(groupTotal),
  byMonth: z.array(groupTotal),
  byDisposition: z.array(z.object({ key: z.enum(outcomes), quantity: z.int() })),
  closing: z.array(stockCount),
  checks: z.array(ruleCheck),
  warnings: z.array(reportWarning),
});
export type SalvageReport = z.infer<typeof salvageReport>;

const explanation = z.object({ text: z.string(), by: z.string(), at: z.string() });
/** What the officer wrote to each warning, by the warning's id. */
export const explanations = z.record(z.string(), explanation);
export type Explanations = z.infer<typeof explanations>;

export const CERTIFICATION =
  'I certify that this report is complete and true to the best of my knowledge, and that the records it rests on are kept for inspection.';

/** What is frozen when a report is signed; the digest is made of all of it. */
export const frozenReport = z.object({
  edition: z.int(),
  amendReason: z.string().nullable(),
  report: salvageReport,
  explanations,
  certification: z.object({ text: z.string(), signer: z.string(), signedAt: z.string() }),
  /** Where the audit chain stood: an anchor for it outside the database. */
  auditHead: z.object({ seq: z.number(), digest: z.string() }),
});
export type FrozenReport = z.infer<typeof frozenReport>;
