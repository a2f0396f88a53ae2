import { z } from 'zod';
import { MAX_CHOSEN } from '@/lib/platform/bulk-wire';
import { pageOf, pageQuery } from '@/lib/platform/paging';
import { LOAN_ACTS } from './rules';
import {
  borderRuleSchema,
  extensionSchema,
  LOAN_STATES,
  lineOutcomeSchema,
  loanDocumentSchema,
  loanKindSchema,
  loanStateSchema,
  parcelFactsSchema,
} from './schema';

/** Answers of the routes of loans. */
export const loanListQuery = pageQuery.extend({
  q: z.string().trim().max(100).optional(),
  state: z.enum([...LOAN_STATES, 'open', 'overdue']).optional(),
  borrowerId: z.uuid().optional(),
});
export type LoanListQuery = z.output<typeof loanListQuery>;

export const loanBalanceShape = z.object({
  sent: z.number().int(),
  returned: z.number().int(),
  consumed: z.number().int(),
  lost: z.number().int(),
  out: z.number().int(),
});

export const loanRow = z.object({
  id: z.uuid(),
  number: z.string(),
  kind: loanKindSchema,
  state: loanStateSchema,
  institution: z.string(),
  contact: z.string(),
  askedOn: z.string(),
  dueOn: z.string().nullable(),
  /** Whole days past the due date while something is out; 0 otherwise. */
  overdueDays: z.number().int(),
  materials: z.number().int(),
  balance: loanBalanceShape,
});
export type LoanRow = z.infer<typeof loanRow>;
export const loanPage = pageOf(loanRow);

export const borrower = z.object({
  id: z.uuid(),
  institution: z.string(),
  contact: z.string(),
  email: z.string().nullable(),
  address: z.string().nullable(),
  country: z.string(),
  /** Its history: how many loans there were, how many are open, how many materials never came back. */
  loans: z.number().int(),
  open: z.number().int(),
  lost: z.number().int(),
});
export type Borrower = z.infer<typeof borrower>;
export const borrowers = z.object({ borrowers: z.array(borrower) });

export const lendableQuery = z
  .object({
    q: z.string().trim().min(1).max(200).optional(),
    /** Instead of words: the birds whose materials are meant, parted by commas. */
    birds: z
      .string()
      .transform((text) => text.split(','))
      .pipe(z.array(z.uuid()).min(1).max(MAX_CHOSEN))
      .optional(),
    kind: loanKindSchema.default('loan'),
  })
  .refine(({ q, birds }) => (q === undefined) !== (birds === undefined), {
    message: 'Say what is looked for: words, or birds.',
    path: ['q'],
  });
export type LendableQuery = z.output<typeof lendableQuery>;
export const lendable = z.object({
  id: z.uuid(),
  birdId: z.uuid(),
  label: z.string(),
  kind: z.string(),
  scientificName: z.string(),
  commonName: z.string().nullable(),
  place: z.string().nullable(),
  /** Why it cannot go; empty when it can. */
  problems: z.array(z.string()),
});
export type Lendable = z.infer<typeof lendable>;
export const lendables = z.object({ materials: z.array(lendable) });

export const loanLine = z.object({
  id: z.uuid(),
  materialId: z.uuid(),
  birdId: z.uuid(),
  label: z.string(),
  kind: z.string(),
  custody: z.string(),
  scientificName: z.string(),
  commonName: z.string().nullable(),
  /** Where it lies; while it is out, where it lay. */
  place: z.string().nullable(),
  vial: z.object({ amountLeft: z.number(), unit: z.string() }).nullable(),
  conditionOut: z.string().nullable(),
  conditionIn: z.string().nullable(),
  sentOn: z.string().nullable(),
  outcome: lineOutcomeSchema.nullable(),
  outcomeOn: z.string().nullable(),
  outcomeNote: z.string().nullable(),
  /** Why it cannot leave now; empty when it can, or is gone. */
  problems: z.array(z.string()),
});
export type LoanLineRecord = z.infer<typeof loanLine>;

export const parcelProposal = parcelFactsSchema.extend({
  /** Null while the collection's settings do not say in which country it is. */
  fromCountry: z.string().nullable(),
});

export const loanRecord = z.object({
  id: z.uuid(),
  number: z.string(),
  kind: loanKindSchema,
  state: loanStateSchema,
  version: z.int32(),
  purpose: z.string(),
  conditions: z.string().nullable(),
  borrower,
  askedOn: z.string(),
  askedBy: z.string().nullable(),
  /** Set where somebody outside asked through a link: for whom it was made, and what they wrote. */
  origin: z.object({ link: z.string(), sentAt: z.string(), wanted: z.array(z.string()) }).nullable(),
  decidedBy: z.string().nullable(),
  decidedAt: z.string().nullable(),
  decisionNote: z.string().nullable(),
  packedAt: z.string().nullable(),
  sentOn: z.string().nullable(),
  receivedOn: z.string().nullable(),
  closedAt: z.string().nullable(),
  dueOn: z.string().nullable(),
  overdueDays: z.number().int(),
  balance: loanBalanceShape,
  lines: z.array(loanLine),
  extensions: z.array(extensionSchema),
  border: z.object({
    caution: z.string(),
    /** What was said of the parcel, or what the records propose. */
    parcel: parcelProposal,
    isProposed: z.boolean(),
    /** What the records cannot tell and a person must look up. */
    unknown: z.array(z.string()),
    documents: z.array(
      borderRuleSchema.pick({ id: true, document: true, detail: true, citation: true, verified: true }),
    ),
    there: z.array(loanDocumentSchema),
    missing: z.array(z.string()),
  }),
  /** The present day where the collection is. */
  today: z.string(),
  /** What this actor may do next, and why not where the state would allow it. */
  acts: z.array(z.enum(LOAN_ACTS)),
  refusals: z.array(z.object({ act: z.enum(LOAN_ACTS), reason: z.string() })),
  abilities: z.object({ execute: z.boolean(), choose: z.boolean(), history: z.boolean() }),
});
export type LoanRecord = z.infer<typeof loanRecord>;
