import { z } from 'zod';
import { givenDay } from '@/lib/platform/days';

/*
 * What permits, their checks and finds have in common. The permit itself is in permit-schema, the facts of a check in
 * coverage-schema: no page of a find brings those.
 */

/** A local calendar day, 'YYYY-MM-DD'; days that do not exist are refused. */
export const calendarDay = givenDay('must be a day that exists, written YYYY-MM-DD');

export const specimenTypes = ['whole-bird', 'part', 'feathers', 'nest', 'egg'] as const;
export const specimenType = z.enum(specimenTypes);
export type SpecimenType = z.infer<typeof specimenType>;

export const holdKinds = [
  'legal',
  'evidence',
  'disease',
  'event',
  'quarantine',
  'contact-first',
  'identification',
  'missing-data',
] as const;
/** Why a bird must wait. Salvage says who lifts which. */
export const holdKind = z.enum(holdKinds);
export type HoldKind = z.infer<typeof holdKind>;

export const tagFields = ['species', 'date', 'place', 'salvager-name', 'salvager-contact'] as const;
export const tagField = z.enum(tagFields);
export type TagField = z.infer<typeof tagField>;

export const taxonStatuses = ['protected', 'assumed-protected', 'unprotected', 'unresolved'] as const;
export type TaxonStatusWord = (typeof taxonStatuses)[number];

/** What the check of coverage says of a bird. */
export const verdicts = ['covered', 'needs-attention', 'not-covered'] as const;
export const verdict = z.enum(verdicts);
export type Verdict = z.infer<typeof verdict>;

export const reasonOutcomes = ['pass', 'note', 'attention', 'fail'] as const;

export const coverageReason = z.object({
  outcome: z.enum(reasonOutcomes),
  code: z.string(),
  message: z.string(),
  authorityId: z.string().nullable(),
  clauseId: z.string().nullable(),
  ruleId: z.string().nullable(),
  cite: z.string().nullable(),
  mark: z.string().nullable(),
  unverified: z.boolean(),
  whoMustBeTold: z.string().nullable(),
  hold: holdKind.nullable(),
});
export type CoverageReason = z.infer<typeof coverageReason>;

export const chosenAuthority = z.object({
  kind: z.enum(['permit', 'general-authorisation', 'not-required']),
  id: z.string(),
  title: z.string(),
});
export type ChosenAuthority = z.infer<typeof chosenAuthority>;

export const coverageResult = z.object({
  verdict,
  authority: chosenAuthority.nullable(),
  status: z.enum(taxonStatuses),
  reasons: z.array(coverageReason),
  holds: z.array(holdKind),
  whoMustBeTold: z.array(z.string()),
  others: z.array(z.object({ authority: chosenAuthority, verdict, reasons: z.array(coverageReason) })),
  caution: z.string(),
});
export type CoverageResult = z.infer<typeof coverageResult>;
