import { z } from 'zod';
import { coverageFactsPatch, factNames } from './coverage-schema';
import { jurisdictionCode, permitClause, permitKind, placeSelector, taxonSelector } from './permit-schema';
import { calendarDay, holdKind, specimenType, tagField, taxonStatuses, verdict } from './schema';

/**
 * How a rule is known: read in the regulation's text; read in an older edition; read under the number
 * before the renumbering of 2022; only the opening of an official page read; recalled without a source.
 */
export const ruleMarks = [
  'read',
  'read-older-edition',
  'read-old-number',
  'opening-read',
  'recalled',
] as const;
export const ruleMark = z.enum(ruleMarks);
export type RuleMark = z.infer<typeof ruleMark>;

const ruleId = z
  .string()
  .regex(/^[a-z0-9][a-z0-9.-]*$/, 'ids are lower-case words, digits, dots and hyphens');
const source = {
  id: ruleId,
  text: z.string().trim().min(1),
  cite: z.string().trim().min(1),
  date: calendarDay.describe('the edition or the day the rule was read or took effect'),
  mark: ruleMark,
};

export const dayNames = ['found', 'received', 'contacted', 'today'] as const;
export type DayName = (typeof dayNames)[number];

const leafConditions = [
  z.object({ kind: z.literal('taxon'), taxa: z.array(taxonSelector).min(1) }).strict(),
  z.object({ kind: z.literal('on-list'), listId: z.string().min(1) }).strict(),
  z.object({ kind: z.literal('status'), is: z.array(z.enum(taxonStatuses)).min(1) }).strict(),
  z.object({ kind: z.literal('specimen-type'), types: z.array(specimenType).min(1) }).strict(),
  z
    .object({
      kind: z.literal('found-within'),
      from: calendarDay.nullable().default(null),
      until: calendarDay.nullable().default(null),
    })
    .strict(),
  z.object({ kind: z.literal('found-in'), places: z.array(placeSelector).min(1) }).strict(),
  z.object({ kind: z.literal('group-at-least'), count: z.int().min(2) }).strict(),
  z
    .object({
      kind: z.literal('fact'),
      fact: z.enum(factNames),
      is: z.boolean(),
      whenUnknown: z.enum(['yes', 'no', 'unsure']).default('unsure'),
    })
    .strict(),
  z
    .object({
      kind: z.literal('days-over'),
      from: z.enum(dayNames),
      to: z.enum(dayNames),
      days: z.int().nonnegative(),
    })
    .strict(),
  z.object({ kind: z.literal('tag-lacks'), fields: z.array(tagField).min(1) }).strict(),
  z.object({ kind: z.literal('report-overdue') }).strict(),
] as const;

export type LeafCondition = z.infer<(typeof leafConditions)[number]>;
export type Condition =
  | LeafCondition
  | { kind: 'all-of'; conditions: Condition[] }
  | { kind: 'any-of'; conditions: Condition[] }
  | { kind: 'none-of'; conditions: Condition[] };

/** The closed set of questions a pack may ask. Each answers yes, no or unsure. */
export const condition: z.ZodType<Condition> = z.lazy(() =>
  z.discriminatedUnion('kind', [
    ...leafConditions,
    z.object({ kind: z.literal('all-of'), conditions: z.array(condition).min(1) }).strict(),
    z.object({ kind: z.literal('any-of'), conditions: z.array(condition).min(1) }).strict(),
    z.object({ kind: z.literal('none-of'), conditions: z.array(condition).min(1) }).strict(),
  ]),
);

/** What the rule says when its condition is met. Unsure speaks at most as 'attention'. */
const consequence = z
  .object({
    outcome: z.enum(['note', 'attention', 'fail']),
    code: ruleId,
    message: z.string().trim().min(1),
    whoMustBeTold: z.string().trim().min(1).nullable().default(null),
    hold: holdKind.nullable().default(null),
  })
  .strict();

export const packRule = z
  .object({
    ...source,
    scope: z.union([z.literal('any'), z.object({ authorisation: ruleId }).strict()]),
    when: z.array(condition).min(1),
    waivedBySpecialAuthorisation: z.boolean().default(false),
    says: consequence,
  })
  .strict();
export type PackRule = z.infer<typeof packRule>;

export const generalAuthorisation = z
  .object({
    ...source,
    title: z.string().trim().min(1),
    effectiveOn: calendarDay,
    endsOn: calendarDay.nullable().default(null),
    specimenTypes: z.array(specimenType).min(1),
  })
  .strict();
export type GeneralAuthorisation = z.infer<typeof generalAuthorisation>;

const unprotectedTaxa = z.object({ ...source, taxa: z.array(taxonSelector).min(1) }).strict();
export type UnprotectedTaxa = z.infer<typeof unprotectedTaxa>;

const retention = z
  .object({
    ...source,
    years: z.int().positive(),
    after: z.enum(['expiry', 'acquisition', 'calendar-year']),
  })
  .strict();

const permitDefault = z
  .object({
    ...source,
    permitKinds: z.array(permitKind).min(1),
    maximumYears: z.int().positive().nullable().default(null),
    clauses: z.array(permitClause).default([]),
  })
  .strict();

const advice = z.object({ ...source }).strict();

const example = z
  .object({
    name: z.string().trim().min(1),
    facts: coverageFactsPatch,
    today: calendarDay,
    lists: z.record(z.string(), z.array(z.string())).default({}),
    expect: z.object({ verdict, codes: z.array(z.string()).default([]) }).strict(),
  })
  .strict();

/** A rule pack: the law of one jurisdiction as data. Needs no code, carries its own examples. */
export const rulePack = z
  .object({
    packId: ruleId,
    version: z.string().regex(/^\d+\.\d+\.\d+$/, 'write the version as three numbers, such as 1.0.0'),
    title: z.string().trim().min(1),
    jurisdiction: jurisdictionCode,
    caution: z.string().trim().min(1),
    explanation: z.array(z.string()).default([]),
    protectedListIds: z.array(z.string().min(1)).default([]),
    authorisations: z.array(generalAuthorisation).default([]),
    rules: z.array(packRule).default([]),
    unprotected: z.array(unprotectedTaxa).default([]),
    retention: z.array(retention).default([]),
    permitDefaults: z.array(permitDefault).default([]),
    advice: z.array(advice).default([]),
    examples: z.array(example).default([]),
  })
  .strict()
  .superRefine((pack, check) => {
    const entries = [
      ...pack.authorisations,
      ...pack.rules,
      ...pack.unprotected,
      ...pack.retention,
      ...pack.permitDefaults,
      ...pack.advice,
    ];
    const seen = new Set<string>();
    for (const entry of entries) {
      if (seen.has(entry.id))
        check.addIssue({ code: 'custom', message: `the id "${entry.id}" is used twice` });
      seen.add(entry.id);
    }
    const known = new Set(pack.authorisations.map((entry) => entry.id));
    for (const [index, rule] of pack.rules.entries()) {
      if (rule.scope !== 'any' && !known.has(rule.scope.authorisation)) {
        check.addIssue({
          code: 'custom',
          path: ['rules', index, 'scope'],
          message: `no authorisation "${rule.scope.authorisation}" in this pack`,
        });
      }
    }
  });
export type RulePack = z.infer<typeof rulePack>;
