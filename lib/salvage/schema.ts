import { z } from 'zod';
import { calendarDay, holdKind, specimenType, tagField } from '@/lib/permits/schema';
import { phrases, say } from '@/lib/platform/words/say';

export const salvageStates = ['reported', 'in-triage', 'accepted', 'declined', 'on-hold'] as const;
export const salvageState = z.enum(salvageStates);
export type SalvageState = z.infer<typeof salvageState>;

export const salvageSources = ['staff', 'drop-off'] as const;

export const suspectedCauses = [
  'window-strike',
  'vehicle-strike',
  'predation',
  'cat',
  'disease',
  'poisoning',
  'shot',
  'electrocution',
  'starvation',
  'weather',
  'died-in-care',
  'other',
  'unknown',
] as const;
export const suspectedCause = z.enum(suspectedCauses);

/** State of the carcass as it came; the queue reads the same words. */
export const arrivalConditions = ['fresh', 'good', 'fair', 'poor', 'remains', 'unknown'] as const;
export const arrivalCondition = z.enum(arrivalConditions);

export const coverageWords = ['unchecked', 'covered', 'needs-attention', 'not-covered'] as const;
export const coverageWord = z.enum(coverageWords);

/** A date as somebody gave it: a day, a month, a year or a range; both ends are inclusive. */
export const dateInterval = z
  .object({ earliestOn: calendarDay, latestOn: calendarDay, verbatim: z.string().trim().max(200) })
  .refine((interval) => interval.earliestOn <= interval.latestOn, {
    path: ['latestOn'],
    message: 'The range ends before it begins.',
  });
export type DateInterval = z.infer<typeof dateInterval>;

const text = (most: number) => z.string().trim().max(most);

/** Where it was found: names as people write them, and coordinates as they were written. */
export const findPlace = z.object({
  country: z.string().regex(/^[A-Z]{2}$/, 'Give the country by its two letters, such as US.'),
  stateProvince: text(100).default(''),
  county: text(100).default(''),
  locality: text(500).min(1, 'Say where it was found.'),
  placeId: z.uuid().nullable().default(null),
  /** Degrees, UTM or MGRS as written; read by the server. */
  verbatimCoordinates: text(200).nullable().default(null),
  latitude: z.number().min(-90).max(90).nullable().default(null),
  longitude: z.number().min(-180).max(180).nullable().default(null),
  uncertaintyM: z.number().positive().max(20_037_509).nullable().default(null),
});
const halfGiven = (place: { latitude: number | null; longitude: number | null }) =>
  (place.latitude === null) === (place.longitude === null);
const halfIssue = { path: ['longitude'], error: () => say('Give latitude and longitude, or neither.') };
export type FindPlace = z.infer<typeof findPlace>;

const answer = z.boolean().nullable().default(null);
const reference = text(300).min(1).nullable().default(null);
const day = calendarDay.nullable().default(null);

/** What the law asks about a find beyond the record's own columns; null is "not known". */
export const findFacts = z.object({
  finderRelation: z.enum(['under-direct-control', 'public', 'agency']).default('public'),
  /** The finder's account, when the finder is one of us; then no contact data are kept. */
  finderPersonId: z.uuid().nullable().default(null),
  /** Species still possible for a bird that is not identified to species. */
  mayBe: z.array(text(120).min(1)).max(20).default([]),
  bandIsFederal: answer,
  contactedOn: day,
  contactDocument: reference,
  lawEnforcementToldOn: day,
  instructionReference: reference,
  writtenReleaseReference: reference,
  /** What the tag says; null: all that the record holds, since the tag is printed from it. */
  tag: z.array(tagField).nullable().default(null),
  alive: z.boolean().default(false),
  /** Other dead birds seen at that place on that day that nobody brought in. */
  othersDead: z.int().min(0).max(10_000).default(0),
  nestInactive: answer,
  eggNonviable: answer,
  breedingSeason: answer,
  finderTrained: answer,
  activeSearch: z.boolean().default(false),
  personalUseOrSale: z.boolean().default(false),
  sourceAuthorised: answer,
  exhibitionBird: answer,
  claims: z
    .array(z.object({ authorityId: text(200).min(1), role: z.enum(['primary', 'also-required']) }))
    .max(5)
    .default([]),
});
export type FindFacts = z.infer<typeof findFacts>;

/** How to reach a finder. Seen by those who need it, erased on request, never in the audit trail. */
export const finderContact = z.object({
  name: text(200).min(1).nullable().default(null),
  email: z.email('Write the e-mail address in full.').max(200).nullable().default(null),
  phone: text(60).min(3).nullable().default(null),
  address: text(300).min(3).nullable().default(null),
});
export type FinderContact = z.infer<typeof finderContact>;

const findFields = z.object({
  found: dateInterval,
  receivedOn: calendarDay,
  place: findPlace.refine(halfGiven, halfIssue),
  taxonId: z.uuid().nullable(),
  verbatimTaxon: text(200).min(1, 'Say what bird it is, as far as you can.'),
  specimenType,
  quantity: z.int().positive().max(1000),
  circumstances: text(5000),
  cause: suspectedCause,
  condition: arrivalCondition,
  bandNumber: text(40).min(1).nullable(),
  diseaseSigns: z.boolean(),
  suspectedIllegal: z.boolean(),
  remarks: text(5000).min(1).nullable(),
});

/** What a person enters about a found bird. `requestKey` makes sending twice harmless. */
export const reportFindRequest = findFields.extend({
  requestKey: z.uuid(),
  receivedOn: calendarDay.nullable().default(null),
  taxonId: findFields.shape.taxonId.default(null),
  specimenType: specimenType.default('whole-bird'),
  quantity: findFields.shape.quantity.default(1),
  circumstances: findFields.shape.circumstances.default(''),
  cause: suspectedCause.default('unknown'),
  condition: arrivalCondition.default('unknown'),
  bandNumber: findFields.shape.bandNumber.default(null),
  diseaseSigns: z.boolean().default(false),
  suspectedIllegal: z.boolean().default(false),
  remarks: findFields.shape.remarks.default(null),
  finder: finderContact.nullable().default(null),
  facts: findFacts.partial().prefault({}),
});
export type ReportFindRequest = z.infer<typeof reportFindRequest>;

const why = phrases(text(1000).min(1, 'Say why.'));
const version = z.int32().nonnegative();

/** A change of a record; only what is named changes. */
export const changeFindRequest = findFields
  .partial()
  .extend({ version, reason: why, facts: findFacts.partial().optional() });
export type ChangeFindRequest = z.infer<typeof changeFindRequest>;

export const actRequest = z.object({ version });
export const reasonedActRequest = z.object({ version, reason: why });

export const acceptRequest = z.object({
  version,
  /** The freezer, shelf or box it is put into; without one it stays in custody. */
  storage: z
    .object({ unitId: z.uuid(), position: text(20).min(1).nullable().default(null) })
    .nullable()
    .default(null),
});
export type AcceptRequest = z.infer<typeof acceptRequest>;

export const placeHoldRequest = z.object({
  version,
  kind: holdKind,
  reason: text(1000).min(1, 'Say why it is held.'),
  tellWhom: text(300).min(1).nullable().default(null),
});
export type PlaceHoldRequest = z.infer<typeof placeHoldRequest>;

export const liftHoldRequest = z.object({
  version,
  reason: text(1000).min(1, 'Say why it may go on.'),
  documentReference: text(300).min(1).nullable().default(null),
});
export type LiftHoldRequest = z.infer<typeof liftHoldRequest>;

/** An officer's word on the authority of a find. */
export const rulingRequest = z
  .object({
    version,
    verdict: z.enum(['covered', 'not-covered']),
    /** The permit whose ledger counts the bird. */
    permitId: z.uuid().nullable().default(null),
    cite: text(500).min(1, 'Name the clause, letter or rule.'),
    reason: why,
  })
  .refine((ruling) => ruling.verdict === 'covered' || ruling.permitId === null, {
    path: ['permitId'],
    message: 'A bird that is not covered counts under no permit.',
  });
export type RulingRequest = z.infer<typeof rulingRequest>;

export const handOverRequest = z.object({
  version,
  toWhom: text(200).min(1, 'Say who has it now.'),
  /** When it changed hands; now, when left out. */
  at: z.iso.datetime({ offset: true }).nullable().default(null),
  note: text(500).min(1).nullable().default(null),
});
export type HandOverRequest = z.infer<typeof handOverRequest>;

/** One step of the way of a bird from hand to hand, as the gap check reads it. */
export const handOver = z.object({
  fromName: z.string().trim().min(1),
  toName: z.string().trim().min(1),
  on: calendarDay,
  note: z.string().max(500).default(''),
});
export type HandOver = z.infer<typeof handOver>;

export const bandReportRequest = z.object({ version, reportedOn: calendarDay });

export const finderChangeRequest = z.object({ version, reason: why, finder: finderContact });

export const slipRequest = z.object({ label: text(40).min(1, 'Say where it hangs.') });

/** What a finder without an account fills in. Nothing of the collection is asked for or shown. */
export const dropOffRequest = z.object({
  requestKey: z.uuid(),
  what: text(200).min(1, 'Say what bird it is, or "unknown".'),
  found: dateInterval,
  where: text(500).min(1, 'Say where you found it.'),
  county: text(100).default(''),
  latitude: findPlace.shape.latitude,
  longitude: findPlace.shape.longitude,
  uncertaintyM: findPlace.shape.uncertaintyM,
  how: text(2000).default(''),
  othersDead: z.int().min(0).max(1000).default(0),
  lookedIll: z.boolean().default(false),
  name: text(200).min(1).nullable().default(null),
  contact: text(200).min(3).nullable().default(null),
});
export type DropOffRequest = z.infer<typeof dropOffRequest>;
