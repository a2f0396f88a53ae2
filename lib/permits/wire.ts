import { z } from 'zod';
import { pageOf, pageQuery } from '@/lib/platform/paging';
import { phrases } from '@/lib/platform/words/say';
import { statusDecision, taxonList } from './coverage-schema';
import { ruleMark } from './pack-schema';
import { jurisdictionCode, permitClause, permitKind, permitPerson, subPermittee } from './permit-schema';
import { calendarDay } from './schema';

const words = (most: number) => z.string().trim().min(1).max(most);
const why = words(1000);

export const permitStandings = ['coming', 'in-force', 'ended'] as const;
export type PermitStanding = (typeof permitStandings)[number];

export const permitListQuery = pageQuery.extend({
  q: z.string().trim().max(100).optional(),
  standing: z.enum(permitStandings).optional(),
});
export type PermitListQuery = z.infer<typeof permitListQuery>;

export const permitWarning = z.object({
  code: z.string(),
  clauseId: z.string().nullable(),
  dueOn: z.string().nullable(),
  message: z.string(),
});
export type PermitWarning = z.infer<typeof permitWarning>;

export const permitRow = z.object({
  id: z.uuid(),
  number: z.string(),
  authority: z.string(),
  kind: permitKind,
  jurisdiction: z.string(),
  holder: z.string(),
  effectiveOn: z.string(),
  expiresOn: z.string().nullable(),
  standing: z.enum(permitStandings),
  birds: z.number().int(),
  warnings: z.array(permitWarning),
});
export type PermitRow = z.infer<typeof permitRow>;
export const permitPage = pageOf(permitRow);

/** The part of a permit that amendments change. */
export const permitText = z.object({
  expiresOn: calendarDay.nullable(),
  subPermittees: z.array(subPermittee),
  clauses: z.array(permitClause),
});
export type PermitText = z.infer<typeof permitText>;

export const amendmentRecord = z.object({
  version: z.int32(),
  effectiveOn: z.string(),
  reason: z.string(),
  amendedAt: z.string(),
  amendedBy: z.string(),
  before: permitText,
});

export const quotaRecord = z.object({
  clauseId: z.string(),
  fromOn: z.string(),
  untilOn: z.string(),
  used: z.number().int(),
  maximum: z.number().int(),
});

const permitLink = z.object({ id: z.uuid(), number: z.string() });

export const permitAbilities = z.object({ manage: z.boolean(), rule: z.boolean() });

export const permitRecord = permitRow.extend({
  holderPersonId: z.uuid().nullable(),
  subPermittees: z.array(subPermittee),
  clauses: z.array(permitClause),
  notes: z.string().nullable(),
  version: z.int32(),
  replaces: permitLink.nullable(),
  replacedBy: z.array(permitLink),
  amendments: z.array(amendmentRecord),
  quotas: z.array(quotaRecord),
  /** Remarks on the permit's own terms against the rule packs. */
  remarks: z.array(z.object({ message: z.string(), cite: z.string() })),
  caution: z.string(),
  abilities: permitAbilities,
});
export type PermitRecord = z.infer<typeof permitRecord>;

/** Slips of the pen in what identifies the permit; its terms are amended, not corrected. */
export const correctPermitRequest = z.object({
  version: z.int32().nonnegative(),
  reason: why,
  number: words(200).optional(),
  authority: words(200).optional(),
  kind: permitKind.optional(),
  jurisdiction: jurisdictionCode.optional(),
  effectiveOn: calendarDay.optional(),
  holder: permitPerson.optional(),
  notes: z.string().trim().max(5000).nullable().optional(),
});
export type CorrectPermitRequest = z.infer<typeof correctPermitRequest>;

export const renewPermitRequest = phrases(
  z
    .object({ number: words(200), effectiveOn: calendarDay, expiresOn: calendarDay.nullable() })
    .refine((renewal) => renewal.expiresOn === null || renewal.expiresOn >= renewal.effectiveOn, {
      path: ['expiresOn'],
      message: 'the permit expires before it takes effect',
    }),
);
export type RenewPermitRequest = z.infer<typeof renewPermitRequest>;

export const packRow = z.object({
  id: z.uuid(),
  key: z.string(),
  version: z.string(),
  title: z.string(),
  jurisdiction: z.string(),
  active: z.boolean(),
  /** Active, and the newest of its key: what the check uses. */
  inForce: z.boolean(),
  entries: z.number().int(),
  unverified: z.number().int(),
  loadedAt: z.string(),
});
export type PackRow = z.infer<typeof packRow>;
export const packList = z.object({ rows: z.array(packRow), abilities: permitAbilities });

export const packEntryKinds = [
  'authorisation',
  'rule',
  'unprotected',
  'retention',
  'permit-default',
  'advice',
] as const;
export const packEntry = z.object({
  id: z.string(),
  kind: z.enum(packEntryKinds),
  text: z.string(),
  cite: z.string(),
  date: z.string(),
  mark: ruleMark,
  unverified: z.boolean(),
  confirmed: z.object({ by: z.string(), at: z.string(), note: z.string() }).nullable(),
});
export type PackEntry = z.infer<typeof packEntry>;

export const packRecord = packRow.extend({
  caution: z.string(),
  explanation: z.array(z.string()),
  list: z.array(packEntry),
  abilities: permitAbilities,
});
export type PackRecord = z.infer<typeof packRecord>;

/** Clauses that a pack proposes for permits of some kinds. */
export type PermitDefault = {
  id: string;
  text: string;
  cite: string;
  kinds: z.infer<typeof permitKind>[];
  clauses: z.infer<typeof permitClause>[];
};

export const loadPackRequest = z.object({ fileName: words(200), text: z.string().min(2).max(900_000) });
export const switchPackRequest = z.object({ active: z.boolean(), reason: why });
export const confirmRuleRequest = z.object({ ruleId: words(200), confirmed: z.boolean(), note: why });
export type ConfirmRuleRequest = z.infer<typeof confirmRuleRequest>;

export const importListRequest = taxonList.omit({ entries: true }).extend({
  credit: z.string().trim().max(500).nullable().default(null),
  csv: z.string().min(1).max(950_000),
});
export type ImportListRequest = z.infer<typeof importListRequest>;

export const unresolvedName = z.object({ name: z.string(), englishName: z.string().nullable() });

export const statusListRow = z.object({
  id: z.uuid(),
  listId: z.string(),
  title: z.string(),
  jurisdiction: z.string(),
  effect: taxonList.shape.effect,
  source: z.string(),
  edition: z.string(),
  editionOn: z.string(),
  credit: z.string().nullable(),
  loadedAt: z.string(),
  /** The newest edition of its id: what the check uses. */
  current: z.boolean(),
  names: z.number().int(),
  unresolved: z.array(unresolvedName),
});
export type StatusListRow = z.infer<typeof statusListRow>;
export const statusLists = z.object({
  rows: z.array(statusListRow),
  /** Lists that a rule pack in force asks for and nobody has imported. */
  missing: z.array(z.object({ listId: z.string(), askedBy: z.string() })),
  abilities: permitAbilities,
});
export const importListAnswer = z.object({
  list: statusListRow,
  errors: z.array(z.object({ line: z.number().int(), message: z.string() })),
});

export const decisionRequest = statusDecision
  .pick({ name: true, jurisdiction: true, cite: true })
  .extend({ reason: why });
export type DecisionRequest = z.infer<typeof decisionRequest>;
export const decisionRow = z.object({
  id: z.uuid(),
  name: z.string(),
  jurisdiction: z.string(),
  status: z.string(),
  cite: z.string(),
  decidedOn: z.string(),
  decidedBy: z.string(),
});
export type DecisionRow = z.infer<typeof decisionRow>;
export const decisionList = z.object({ rows: z.array(decisionRow), abilities: permitAbilities });
export const withdrawRequest = z.object({ reason: why });
