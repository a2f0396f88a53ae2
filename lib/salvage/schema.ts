import { z } from 'zod';
import { calendarDay, holdKind, specimenType, taxonFact } from '@/lib/permits/public-rules';

export const salvageStates = ['reported', 'in-triage', 'accepted', 'declined', 'on-hold'] as const;
export const salvageState = z.enum(salvageStates);
export type SalvageState = z.infer<typeof salvageState>;

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

export const arrivalConditions = ['fresh', 'slightly-decayed', 'decayed', 'desiccated', 'remains'] as const;
export const arrivalCondition = z.enum(arrivalConditions);

/** A date as somebody gave it: a day, a month, a year or a range; both ends are inclusive. */
export const dateInterval = z
  .object({ earliestOn: calendarDay, latestOn: calendarDay, verbatim: z.string().max(200) })
  .refine((interval) => interval.earliestOn <= interval.latestOn, {
    path: ['latestOn'],
    message: 'the range ends before it begins',
  });
export type DateInterval = z.infer<typeof dateInterval>;

export const findPlace = z.object({
  country: z.string().regex(/^[A-Z]{2}$/),
  subdivision: z.string().nullable(),
  county: z.string().trim().min(1).nullable(),
  locality: z.string().trim().min(1).max(500),
  latitude: z.number().min(-90).max(90).nullable().default(null),
  longitude: z.number().min(-180).max(180).nullable().default(null),
  uncertaintyM: z.number().positive().max(20_037_509).nullable().default(null),
});
export type FindPlace = z.infer<typeof findPlace>;

export const handOver = z.object({
  fromName: z.string().trim().min(1),
  toName: z.string().trim().min(1),
  on: calendarDay,
  note: z.string().max(500).default(''),
});
export type HandOver = z.infer<typeof handOver>;

/** What a person enters about a found bird. `requestKey` makes sending twice harmless. */
export const reportFindRequest = z.object({
  requestKey: z.uuid(),
  found: dateInterval,
  place: findPlace,
  taxon: taxonFact,
  specimenType: specimenType.default('whole-bird'),
  quantity: z.int().positive().max(1000).default(1),
  finderName: z.string().trim().min(1).max(200).nullable(),
  finderContact: z.string().trim().max(300).nullable().default(null),
  circumstances: z.string().trim().max(5000).default(''),
  suspectedCause: suspectedCause.default('unknown'),
  condition: arrivalCondition.nullable().default(null),
  bandNumber: z.string().trim().max(40).nullable().default(null),
  diseaseSigns: z.boolean().nullable().default(null),
  suspectedIllegalKill: z.boolean().nullable().default(null),
});
export type ReportFindRequest = z.infer<typeof reportFindRequest>;

export const placeHoldRequest = z.object({
  version: z.int().nonnegative(),
  kind: holdKind,
  reason: z.string().trim().min(1, 'say why it is held'),
  whoMustBeTold: z.string().trim().min(1).nullable().default(null),
});
export const liftHoldRequest = z.object({
  version: z.int().nonnegative(),
  reason: z.string().trim().min(1, 'say why it may go on'),
  documentReference: z.string().trim().min(1).nullable().default(null),
});
