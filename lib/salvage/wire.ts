import { z } from 'zod';
import { coverageReason, coverageResult, verdict } from '@/lib/permits/public-rules';
import { pageOf, pageQuery } from '@/lib/platform/paging';
import { coverageWord, finderContact, findFacts, salvageState } from './schema';

const day = z.iso.date();

export const salvageListQuery = pageQuery.extend({
  q: z.string().trim().max(100).optional(),
  /** Several, with commas between; 'waiting' is what triage has to do. */
  state: z
    .string()
    .regex(
      /^(waiting|(reported|in-triage|accepted|declined|on-hold)(,(reported|in-triage|accepted|declined|on-hold))*)$/,
    )
    .optional(),
  coverage: coverageWord.optional(),
  county: z.string().trim().max(100).optional(),
  from: day.optional(),
  to: day.optional(),
  hold: z.string().max(30).optional(),
  permitId: z.uuid().optional(),
});
export type SalvageListQuery = z.infer<typeof salvageListQuery>;

export const salvageRow = z.object({
  id: z.uuid(),
  number: z.string(),
  state: salvageState,
  source: z.string(),
  taxon: z.string(),
  commonName: z.string().nullable(),
  identified: z.boolean(),
  specimenType: z.string(),
  quantity: z.number().int(),
  foundFrom: z.string(),
  foundTo: z.string(),
  receivedOn: z.string(),
  stateProvince: z.string(),
  county: z.string(),
  cause: z.string(),
  condition: z.string(),
  coverage: coverageWord,
  ruled: z.boolean(),
  holds: z.array(z.string()),
  loggedAt: z.string(),
  birdId: z.uuid().nullable(),
});
export type SalvageRow = z.infer<typeof salvageRow>;
export const salvagePage = pageOf(salvageRow).extend({ counts: z.record(salvageState, z.number().int()) });
export type SalvagePage = z.infer<typeof salvagePage>;

export const storedCoverage = z.object({
  checkedAt: z.string(),
  groupSize: z.number().int(),
  result: coverageResult,
});
export type StoredCoverage = z.infer<typeof storedCoverage>;

export const storedRuling = z.object({
  verdict,
  permitId: z.uuid().nullable(),
  cite: z.string(),
  reason: z.string(),
  by: z.string(),
  byId: z.string(),
  at: z.string(),
});
export type StoredRuling = z.infer<typeof storedRuling>;

export const holdRecord = z.object({
  id: z.uuid(),
  kind: z.string(),
  reason: z.string(),
  tellWhom: z.string().nullable(),
  placedAt: z.string(),
  placedBy: z.string().nullable(),
  liftedAt: z.string().nullable(),
  liftedBy: z.string().nullable(),
  liftNote: z.string().nullable(),
  document: z.string().nullable(),
  whatToDo: z.string(),
  liftedByRoles: z.array(z.string()),
  needsDocument: z.boolean(),
  mayLift: z.boolean(),
});
export type HoldRecord = z.infer<typeof holdRecord>;

export const custodyStep = z.object({
  id: z.uuid(),
  at: z.string(),
  from: z.string(),
  to: z.string(),
  note: z.string().nullable(),
});

export const findAbilities = z.object({
  change: z.boolean(),
  startTriage: z.boolean(),
  accept: z.boolean(),
  acceptObstacle: z.string().nullable(),
  decline: z.boolean(),
  placeHolds: z.array(z.string()),
  handOver: z.boolean(),
  reportBand: z.boolean(),
  recheck: z.boolean(),
  rule: z.boolean(),
  enterOfficerFacts: z.boolean(),
  seeFinder: z.boolean(),
  eraseFinder: z.boolean(),
  store: z.boolean(),
});

export const salvageRecord = salvageRow.extend({
  taxonId: z.uuid().nullable(),
  verbatimTaxon: z.string(),
  verbatimDate: z.string().nullable(),
  country: z.string(),
  /** False when the exact place is withheld from this reader. */
  exactPlace: z.boolean(),
  locality: z.string().nullable(),
  placeId: z.uuid().nullable(),
  latitude: z.number().nullable(),
  longitude: z.number().nullable(),
  uncertaintyM: z.number().nullable(),
  verbatimCoordinates: z.string().nullable(),
  circumstances: z.string(),
  bandNumber: z.string().nullable(),
  bandReportedOn: z.string().nullable(),
  diseaseSigns: z.boolean(),
  suspectedIllegal: z.boolean(),
  remarks: z.string().nullable(),
  facts: findFacts,
  finder: z.enum(['none', 'on-file', 'erased', 'one-of-us']),
  finderPerson: z.string().nullable(),
  receiptCode: z.string().nullable(),
  loggedBy: z.string().nullable(),
  custody: z.array(custodyStep),
  custodyGaps: z.array(z.string()),
  holdList: z.array(holdRecord),
  check: z
    .object({
      checkedAt: z.string(),
      groupSize: z.number().int(),
      verdict,
      authority: z.object({ kind: z.string(), id: z.string(), title: z.string() }).nullable(),
      status: z.string(),
      reasons: z.array(coverageReason),
      whoMustBeTold: z.array(z.string()),
      others: z.array(z.object({ title: z.string(), verdict, against: z.array(coverageReason) })),
    })
    .nullable(),
  ruling: storedRuling.nullable(),
  permit: z.object({ id: z.uuid(), number: z.string(), authority: z.string() }).nullable(),
  accession: z.object({ id: z.uuid(), number: z.string() }).nullable(),
  bird: z.object({ id: z.uuid(), state: z.string() }).nullable(),
  caution: z.string(),
  version: z.int32(),
  abilities: findAbilities,
});
export type SalvageRecord = z.infer<typeof salvageRecord>;

export const finderAnswer = finderContact.extend({ erasedAt: z.string().nullable() });
export type FinderAnswer = z.infer<typeof finderAnswer>;

/** All that is kept of one finder; instants are ISO 8601, days YYYY-MM-DD. */
export const finderExport = z.object({
  madeAt: z.string(),
  /** One entry a report: the same person may have made several, under one e-mail or telephone. */
  finders: z.array(
    finderAnswer.extend({
      createdAt: z.string(),
      finds: z.array(
        z.object({
          number: z.string(),
          state: z.string(),
          receiptCode: z.string().nullable(),
          loggedAt: z.string(),
          receivedOn: z.string(),
          foundFrom: z.string(),
          foundTo: z.string(),
          verbatimDate: z.string().nullable(),
          verbatimTaxon: z.string(),
          country: z.string(),
          stateProvince: z.string(),
          county: z.string(),
          locality: z.string(),
          latitude: z.number().nullable(),
          longitude: z.number().nullable(),
          circumstances: z.string(),
          custody: z.array(z.object({ at: z.string(), from: z.string(), to: z.string() })),
        }),
      ),
    }),
  ),
});
export type FinderExport = z.infer<typeof finderExport>;

export const slipRow = z.object({
  id: z.uuid(),
  label: z.string(),
  createdAt: z.string(),
  revokedAt: z.string().nullable(),
  reports: z.number().int(),
  lastUsedAt: z.string().nullable(),
});
export type SlipRow = z.infer<typeof slipRow>;
export const slipPage = pageOf(slipRow);
/** `path` is the address behind the printed code. */
export const slipMade = slipRow.extend({ path: z.string() });

export const dropOffAnswer = z.object({ received: z.literal(true), code: z.string() });

export const placeCheckQuery = z.object({
  coordinates: z.string().trim().max(200).optional(),
  latitude: z.coerce.number().min(-90).max(90).optional(),
  longitude: z.coerce.number().min(-180).max(180).optional(),
  uncertaintyM: z.coerce.number().positive().optional(),
  country: z.string().max(2).optional(),
  stateProvince: z.string().max(100).optional(),
  county: z.string().max(100).optional(),
});
export type PlaceCheckQuery = z.infer<typeof placeCheckQuery>;
export const placeCheckAnswer = z.object({
  latitude: z.number().nullable(),
  longitude: z.number().nullable(),
  readAs: z.string().nullable(),
  problem: z.string().nullable(),
  located: z
    .object({ country: z.string(), stateProvince: z.string().nullable(), county: z.string().nullable() })
    .nullable(),
  agrees: z.boolean(),
  message: z.string().nullable(),
  suggestions: z.array(z.object({ latitude: z.number(), longitude: z.number() })),
});
export type PlaceCheckAnswer = z.infer<typeof placeCheckAnswer>;
