import { z } from 'zod';

export const LOAN_STATES = [
  'asked',
  'in-review',
  'granted',
  'declined',
  'packed',
  'sent',
  'received',
  'partly-back',
  'closed',
] as const;
export const loanStateSchema = z.enum(LOAN_STATES);
export type LoanState = z.infer<typeof loanStateSchema>;

/** A loan comes back; a tissue grant may be consumed. */
export const LOAN_KINDS = ['loan', 'grant'] as const;
export const loanKindSchema = z.enum(LOAN_KINDS);
export type LoanKind = z.infer<typeof loanKindSchema>;

/** How a line ended. */
export const LINE_OUTCOMES = ['returned', 'consumed', 'lost'] as const;
export const lineOutcomeSchema = z.enum(LINE_OUTCOMES);
export type LineOutcome = z.infer<typeof lineOutcomeSchema>;

/** One material of a loan. */
export const loanLineSchema = z.object({
  lineId: z.string(),
  materialId: z.string(),
  sentOn: z.iso.date().nullable(),
  outcome: lineOutcomeSchema.nullable(),
  outcomeOn: z.iso.date().nullable(),
  conditionOut: z.string().nullable(),
  conditionIn: z.string().nullable(),
});
export type LoanLine = z.infer<typeof loanLineSchema>;

export const extensionSchema = z.object({
  askedOn: z.iso.date(),
  fromDueOn: z.iso.date(),
  toDueOn: z.iso.date(),
  decidedById: z.string(),
  reason: z.string().trim().min(1),
});
export type LoanExtension = z.infer<typeof extensionSchema>;

/** Terms as the lab sets them. Start values after a university museum's published loan conditions. */
export const loanSettingsSchema = z.object({
  longestDays: z.int().min(1).max(3660).default(365),
  extensionAskedDaysAhead: z.int().min(0).max(365).default(14),
  maxExtensions: z.int().min(0).max(20).default(3),
  remindDaysBefore: z.array(z.int().min(1)).default([30, 14, 1]),
  remindDaysAfter: z.array(z.int().min(1)).default([1, 14, 30, 60, 90]),
});
export type LoanSettings = z.infer<typeof loanSettingsSchema>;

const version = z.int().min(1);
const country = z.string().regex(/^[A-Z]{2}$/, 'Two letters, ISO 3166-1.');

export const askLoanSchema = z.object({
  kind: loanKindSchema,
  borrowerId: z.uuid(),
  purpose: z.string().trim().min(10).max(4000),
  materialIds: z.array(z.uuid()).min(1).max(500),
  dueOn: z.iso.date().nullable(),
});
export const decideLoanSchema = z.object({ version, note: z.string().max(4000).optional() });
export const settleLinesSchema = z.object({
  version,
  lines: z
    .array(
      z.object({
        lineId: z.uuid(),
        outcome: lineOutcomeSchema,
        on: z.iso.date(),
        conditionIn: z.string().max(1000).optional(),
        note: z.string().max(1000).optional(),
      }),
    )
    .min(1),
});
export const extendLoanSchema = z.object({
  version,
  askedOn: z.iso.date(),
  toDueOn: z.iso.date(),
  reason: z.string().trim().min(3).max(1000),
});

/** What a parcel is, for the documents that borders ask for. */
export const parcelFactsSchema = z.object({
  fromCountry: country,
  toCountry: country,
  anyCitesListed: z.boolean(),
  bothRegisteredWithCites: z.boolean(),
  anyMigratoryBirdAct: z.boolean(),
  anyWildBirdOfEu: z.boolean(),
  anyTissue: z.boolean(),
  /** Countries where the birds were found. */
  originCountries: z.array(country),
});
export type ParcelFacts = z.infer<typeof parcelFactsSchema>;

const conditionSchema = z.object({
  crossesBorder: z.boolean().optional(),
  fromAnyOf: z.array(country).optional(),
  toAnyOf: z.array(country).optional(),
  touchesAnyOf: z.array(country).optional(),
  originAbroad: z.boolean().optional(),
  anyCitesListed: z.boolean().optional(),
  bothRegisteredWithCites: z.boolean().optional(),
  anyMigratoryBirdAct: z.boolean().optional(),
  anyWildBirdOfEu: z.boolean().optional(),
  anyTissue: z.boolean().optional(),
});
export type BorderCondition = z.infer<typeof conditionSchema>;

/** A document that a border asks for, as data. `verified: false` is shown as such until an officer confirms the rule. */
export const borderRuleSchema = z.object({
  id: z.string().regex(/^[a-z0-9-]+$/),
  document: z.string(),
  detail: z.string(),
  citation: z.string(),
  verified: z.boolean(),
  when: conditionSchema,
});
export type BorderRule = z.infer<typeof borderRuleSchema>;
export const borderPackSchema = z.object({ caution: z.string(), rules: z.array(borderRuleSchema) });
export type BorderPack = z.infer<typeof borderPackSchema>;
