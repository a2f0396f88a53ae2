import { z } from 'zod';
import { coverageReason, verdict } from '@/lib/permits/schema';
import { coverageWord, findFacts, salvageState } from './schema';

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
