import { z } from 'zod';
import { calendarDay, specimenType, tagField } from './schema';

/** A month and day without a year, 'MM-DD' ('02-29' allowed, read as 28 in common years). */
export const monthDay = z
  .string()
  .regex(/^(0[1-9]|1[0-2])-(0[1-9]|[12]\d|3[01])$/, 'must be a month and day, written MM-DD')
  .refine(
    (value) =>
      !Number.isNaN(Date.parse(`2024-${value}T00:00:00Z`)) && !/^(02-3\d|0[469]-31|11-31)$/.test(value),
    'must be a month and day that exist',
  );

/** A country ('US') or a state, province or territory ('US-IL'), by its ISO 3166 code. */
export const jurisdictionCode = z
  .string()
  .regex(/^[A-Z]{2}(-[A-Z0-9]{1,3})?$/, 'must be an ISO 3166 code such as US or US-IL');

export const permitKinds = [
  'salvage',
  'scientific-collecting',
  'import',
  'export',
  'state',
  'other',
] as const;
export const permitKind = z.enum(permitKinds);

const properName = z.string().trim().min(1).max(200);

/** Which taxa a clause or rule speaks of. Family and order beside a name help with partly identified birds. */
export const taxonSelector = z.discriminatedUnion('by', [
  z.object({ by: z.literal('all') }).strict(),
  z.object({ by: z.literal('order'), name: properName }).strict(),
  z.object({ by: z.literal('family'), name: properName, order: properName.optional() }).strict(),
  z.object({ by: z.literal('genus'), name: properName, family: properName.optional() }).strict(),
  z
    .object({
      by: z.literal('name'),
      name: properName,
      family: properName.optional(),
      order: properName.optional(),
    })
    .strict(),
  z.object({ by: z.literal('list'), listId: properName }).strict(),
]);
export type TaxonSelector = z.infer<typeof taxonSelector>;
const taxa = z.array(taxonSelector).min(1);

export const placeSelector = z
  .object({ within: jurisdictionCode, counties: z.array(properName).min(1).optional() })
  .strict();
export type PlaceSelector = z.infer<typeof placeSelector>;

/** The year a quota or a report runs over. A fiscal year names the day it starts; a permit year starts with the permit. */
export const yearBasis = z.discriminatedUnion('basis', [
  z.object({ basis: z.literal('calendar') }).strict(),
  z.object({ basis: z.literal('fiscal'), startsOn: monthDay }).strict(),
  z.object({ basis: z.literal('permit') }).strict(),
]);
export type YearBasis = z.infer<typeof yearBasis>;

const clauseBase = { id: properName, text: z.string().trim().max(5000).default('') };

/** One condition of a permit. `text` keeps the words of the document. */
export const permitClause = z.discriminatedUnion('kind', [
  z.object({ ...clauseBase, kind: z.literal('taxa-allowed'), taxa }),
  z.object({ ...clauseBase, kind: z.literal('taxa-excluded'), taxa }),
  z.object({ ...clauseBase, kind: z.literal('contact-first'), taxa, contact: properName }),
  z.object({ ...clauseBase, kind: z.literal('special-authorisation'), taxa }),
  z.object({ ...clauseBase, kind: z.literal('specimen-types'), types: z.array(specimenType).min(1) }),
  z.object({ ...clauseBase, kind: z.literal('places'), places: z.array(placeSelector).min(1) }),
  z.object({
    ...clauseBase,
    kind: z.literal('quota'),
    taxa,
    maximum: z.int('a quota is a whole number').nonnegative('a quota cannot be below 0'),
    year: yearBasis,
  }),
  z.object({
    ...clauseBase,
    kind: z.literal('who-may-act'),
    who: z.array(z.enum(['holder', 'sub-permittees', 'under-direct-control', 'anyone'])).min(1),
  }),
  z.object({ ...clauseBase, kind: z.literal('tagging'), fields: z.array(tagField).min(1) }),
  z.object({
    ...clauseBase,
    kind: z.literal('transfer-within-days'),
    days: z.int().positive(),
    after: z.enum(['found', 'expiry']),
  }),
  z.object({
    ...clauseBase,
    kind: z.literal('report-due'),
    year: yearBasis,
    due: z.discriminatedUnion('rule', [
      z.object({ rule: z.literal('days-after'), days: z.int().nonnegative() }),
      z.object({ rule: z.literal('month-day'), monthDay }),
    ]),
  }),
  z.object({
    ...clauseBase,
    kind: z.literal('record-retention'),
    years: z.int().positive(),
    after: z.enum(['expiry', 'acquisition', 'calendar-year']),
  }),
  z.object({ ...clauseBase, kind: z.literal('cataloguing-is-disposition'), isDisposition: z.boolean() }),
  z.object({
    ...clauseBase,
    kind: z.literal('grace'),
    until: calendarDay,
    renewalAppliedOn: calendarDay.nullable().default(null),
  }),
]);
export type PermitClause = z.infer<typeof permitClause>;
export type ClauseOf<K extends PermitClause['kind']> = Extract<PermitClause, { kind: K }>;

export const permitPerson = z.object({ personId: z.string().nullable().default(null), name: properName });

export const subPermittee = permitPerson
  .extend({ fromOn: calendarDay, untilOn: calendarDay.nullable().default(null) })
  .refine((person) => person.untilOn === null || person.untilOn >= person.fromOn, {
    path: ['untilOn'],
    message: 'the last day lies before the first',
  });

/** A dated change of the clauses. The earlier clauses stay readable and still judge earlier birds. */
export const permitAmendment = z.object({
  effectiveOn: calendarDay,
  reason: z.string().trim().min(1),
  clauses: z.array(permitClause),
});

const clauseList = z.array(permitClause).superRefine((clauses, check) => {
  const seen = new Set<string>();
  for (const [index, clause] of clauses.entries()) {
    if (seen.has(clause.id)) {
      check.addIssue({
        code: 'custom',
        path: [index, 'id'],
        message: `clause id "${clause.id}" is used twice`,
      });
    }
    seen.add(clause.id);
  }
});

const permitFields = z.object({
  number: properName,
  authority: properName,
  kind: permitKind,
  jurisdiction: jurisdictionCode,
  effectiveOn: calendarDay,
  expiresOn: calendarDay.nullable(),
  renewsPermitId: z.string().nullable().default(null),
  holder: permitPerson,
  subPermittees: z.array(subPermittee).default([]),
  clauses: clauseList,
});

function expiryAfterStart(permit: { effectiveOn: string; expiresOn: string | null }): boolean {
  return permit.expiresOn === null || permit.expiresOn >= permit.effectiveOn;
}
const expiryIssue = { path: ['expiresOn'], message: 'the permit expires before it takes effect' };

/** A permit as the rules see it: `clauses` as first issued, `amendments` in order of their date. */
export const permit = permitFields
  .extend({ id: z.string().min(1), amendments: z.array(permitAmendment).default([]) })
  .refine(expiryAfterStart, expiryIssue);
export type Permit = z.infer<typeof permit>;

export const createPermitRequest = permitFields.refine(expiryAfterStart, expiryIssue);
export type CreatePermitRequest = z.infer<typeof createPermitRequest>;

/** A change of a permit. `version` is the one the person saw; a stale one is a conflict. */
export const amendPermitRequest = z
  .object({
    version: z.int32().nonnegative(),
    effectiveOn: calendarDay,
    reason: z.string().trim().min(1, 'say why the permit changes'),
    expiresOn: calendarDay.nullable().optional(),
    subPermittees: z.array(subPermittee).optional(),
    clauses: clauseList.optional(),
  })
  .refine(
    (change) =>
      change.expiresOn !== undefined || change.subPermittees !== undefined || change.clauses !== undefined,
    'the amendment changes nothing',
  );
export type AmendPermitRequest = z.infer<typeof amendPermitRequest>;
