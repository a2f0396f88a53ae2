import { z } from 'zod';
import { givenDay } from '@/lib/platform/days';

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

/** What an outside borrower's link is: to be used, used, over, or ended by hand. */
export const LINK_STATES = ['open', 'sent', 'expired', 'ended'] as const;
export type LinkState = (typeof LINK_STATES)[number];

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

const version = z.int32().min(1);
const country = z.string().regex(/^[A-Z]{2}$/, 'Two letters, ISO 3166-1, for example US.');
const day = givenDay();
const note = z.string().trim().max(4000).nullish();

export const borrowerRequest = z.object({
  institution: z.string().trim().min(1, 'Name the institution.').max(300),
  contact: z.string().trim().min(1, 'Name the person who answers for the loan.').max(300),
  email: z.email('This is not an e-mail address.').nullish(),
  address: z.string().trim().max(1000).nullish(),
  country,
});
export type BorrowerRequest = z.infer<typeof borrowerRequest>;

export const askLoanRequest = z.object({
  kind: loanKindSchema,
  borrowerId: z.uuid('Choose who borrows.'),
  purpose: z.string().trim().min(10, 'Say what the material is for, in a sentence.').max(4000),
  materialIds: z.array(z.uuid()).min(1, 'Choose at least one material.').max(500),
  dueOn: day.nullish(),
});
export type AskLoanRequest = z.infer<typeof askLoanRequest>;

/** Which materials a request means, instead of those it had. */
export const chooseMaterialsRequest = z.object({
  version,
  materialIds: askLoanRequest.shape.materialIds,
});
export type ChooseMaterialsRequest = z.infer<typeof chooseMaterialsRequest>;

/** An act that needs nothing but the state it was seen in, and perhaps a word. */
export const loanAct = z.object({ version, note });
export type LoanActRequest = z.infer<typeof loanAct>;

export const declineRequest = z.object({ version, note: z.string().trim().min(3, 'Say why.').max(4000) });

export const packRequest = z.object({
  version,
  /** Condition of each line as it goes into the box. */
  lines: z.array(z.object({ lineId: z.uuid(), conditionOut: z.string().trim().min(1).max(1000) })).max(500),
  conditions: note,
});
export type PackRequest = z.infer<typeof packRequest>;

export const sendRequest = z.object({ version, on: day, dueOn: day });
export type SendRequest = z.infer<typeof sendRequest>;

export const receiveRequest = z.object({ version, on: day, note });
export type ReceiveRequest = z.infer<typeof receiveRequest>;

/** Where a returned material goes: back where it lay, to another place, or nowhere yet. */
export const backToSchema = z.union([
  z.literal('where-it-lay'),
  z.literal('not-yet'),
  z.object({ unitId: z.uuid(), position: z.string().trim().min(1).max(40).nullable() }),
]);
export type BackTo = z.infer<typeof backToSchema>;

export const settleRequest = z.object({
  version,
  lines: z
    .array(
      z.object({
        lineId: z.uuid(),
        outcome: lineOutcomeSchema,
        on: day,
        conditionIn: z.string().trim().max(1000).nullish(),
        note: z.string().trim().max(1000).nullish(),
        backTo: backToSchema.default('where-it-lay'),
        /** Of a vial that comes back from a grant: how much of it was used, in the vial's own unit. */
        amountUsed: z.number().positive().max(1_000_000).nullish(),
      }),
    )
    .min(1, 'Say which lines came back.')
    .max(500),
});
export type SettleRequest = z.infer<typeof settleRequest>;

export const extendRequest = z.object({
  version,
  askedOn: day,
  toDueOn: day,
  reason: z.string().trim().min(3, 'Say why, as it was asked in writing.').max(1000),
});
export type ExtendRequest = z.infer<typeof extendRequest>;

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

/** A paper that goes with the parcel: which rule asks for it, and its reference. */
export const loanDocumentSchema = z.object({
  ruleId: z.string().max(60),
  document: z.string().max(300),
  /** Number of the paper, or why this parcel does not need it. */
  reference: z.string().trim().min(1).max(500),
});
export type LoanDocument = z.infer<typeof loanDocumentSchema>;

export const documentsRequest = z.object({
  version,
  parcel: parcelFactsSchema,
  documents: z.array(loanDocumentSchema).max(50),
});
export type DocumentsRequest = z.infer<typeof documentsRequest>;

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
