import { z } from 'zod';
import { jurisdictionCode, yearBasis } from './permit-schema';
import { calendarDay, specimenType, tagField } from './schema';

export const taxonRanks = ['subspecies', 'species', 'genus', 'family', 'order', 'class'] as const;

/**
 * The bird's identification as far as it goes. A gull of unknown species has rank 'genus' or 'family';
 * `mayBe` lists the species still possible when the identifier could narrow it further.
 */
export const taxonFact = z.object({
  name: z.string().trim().min(1),
  rank: z.enum(taxonRanks),
  genus: z.string().nullable().default(null),
  family: z.string().nullable().default(null),
  order: z.string().nullable().default(null),
  synonyms: z.array(z.string()).default([]),
  mayBe: z.array(z.string()).default([]),
});
export type TaxonFact = z.infer<typeof taxonFact>;

/** Facts a rule may ask about, each true, false or not known (null). */
export const factNames = [
  'alive',
  'nest-inactive',
  'egg-nonviable',
  'breeding-season',
  'finder-trained',
  'agency-staff',
  'active-search',
  'suspected-illegal-kill',
  'disease-signs',
  'federal-band',
  'band-reported',
  'contacted',
  'contact-documented',
  'law-enforcement-told',
  'instruction-recorded',
  'written-release',
  'personal-use-or-sale',
  'source-authorised',
  'exhibition-bird',
] as const;
export type FactName = (typeof factNames)[number];

const answer = z.boolean().nullable();

export const coverageFacts = z
  .object({
    foundEarliestOn: calendarDay,
    foundLatestOn: calendarDay,
    receivedOn: calendarDay.nullable(),
    place: z.object({
      country: z
        .string()
        .regex(/^[A-Z]{2}$/)
        .nullable(),
      subdivision: jurisdictionCode.nullable(),
      county: z.string().nullable(),
    }),
    finder: z.object({
      personId: z.string().nullable(),
      name: z.string().nullable(),
      relation: z.enum(['under-direct-control', 'public', 'agency']),
    }),
    taxon: taxonFact,
    specimenType,
    quantity: z.int().positive(),
    groupSize: z.int().positive().describe('dead birds at that place and day, this one among them'),
    bandNumber: z.string().nullable(),
    bandIsFederal: answer,
    bandReportedOn: calendarDay.nullable(),
    contactedOn: calendarDay.nullable(),
    contactDocument: z.string().nullable(),
    lawEnforcementToldOn: calendarDay.nullable(),
    instructionReference: z.string().nullable(),
    writtenReleaseReference: z.string().nullable(),
    tag: z.array(tagField),
    alive: answer,
    nestInactive: answer,
    eggNonviable: answer,
    breedingSeason: answer,
    finderTrained: answer,
    activeSearch: answer,
    suspectedIllegalKill: answer,
    diseaseSigns: answer,
    personalUseOrSale: answer,
    sourceAuthorised: answer,
    exhibitionBird: answer,
    claims: z.array(z.object({ authorityId: z.string().min(1), role: z.enum(['primary', 'also-required']) })),
  })
  .refine((facts) => facts.foundEarliestOn <= facts.foundLatestOn, {
    path: ['foundLatestOn'],
    message: 'the latest day lies before the earliest',
  });
export type CoverageFacts = z.infer<typeof coverageFacts>;

/** Some of the facts, for the examples inside a pack; the rest is a plain dead bird (see plainFacts). */
export const coverageFactsPatch = z.object(coverageFacts.shape).partial().strict();

/** A bird already counted under an authority, for quotas. */
export const countedTake = z.object({
  authorityId: z.string(),
  taxon: taxonFact,
  foundOn: calendarDay,
  quantity: z.int().positive(),
});

export const coverageContext = z.object({
  today: calendarDay,
  counted: z.array(countedTake).default([]),
  overdueReports: z.array(z.object({ authorityId: z.string(), dueOn: calendarDay })).default([]),
  confirmedRuleIds: z.array(z.string()).default([]),
});
export type CoverageContext = z.infer<typeof coverageContext>;

/** A list of taxa with a source, as imported. 'protects': its birds are protected; 'flags': rules ask for it by id. */
export const taxonList = z.object({
  listId: z.string().min(1),
  title: z.string().min(1),
  jurisdiction: jurisdictionCode,
  effect: z.enum(['protects', 'flags']),
  source: z.string().min(1),
  edition: z.string().min(1),
  editionOn: calendarDay,
  entries: z.array(
    z.object({
      name: z.string().min(1),
      englishName: z.string().nullable().default(null),
      acceptedName: z.string().nullable().default(null),
      match: z.enum(['exact-name', 'english-name', 'none', 'not-tried']).default('not-tried'),
      family: z.string().nullable().default(null),
      order: z.string().nullable().default(null),
    }),
  ),
});
export type TaxonList = z.infer<typeof taxonList>;

/** An explicit, dated, cited decision that a taxon is not protected in a jurisdiction. */
export const statusDecision = z.object({
  name: z.string().min(1),
  jurisdiction: jurisdictionCode,
  status: z.literal('unprotected'),
  cite: z.string().min(1),
  decidedOn: calendarDay,
  decidedBy: z.string().min(1),
});
export type StatusDecision = z.infer<typeof statusDecision>;

export const quotaUse = z.object({
  clauseId: z.string(),
  year: yearBasis,
  fromOn: calendarDay,
  untilOn: calendarDay,
  used: z.int(),
  maximum: z.int(),
});
