import { z } from 'zod';
import { givenDay } from '@/lib/platform/days';

/** State of the bird as a carcass, in the order of its life. The last four are ends. */
export const CARCASS_STATES = [
  'in-custody',
  'in-freezer',
  'queued',
  'claimed',
  'thawing',
  'on-the-bench',
  'prepared',
  'discarded',
  'transferred',
  'released',
] as const;
export const carcassStateSchema = z.enum(CARCASS_STATES);
export type CarcassState = z.infer<typeof carcassStateSchema>;

/** A bird that is here and not prepared yet. */
export const BACKLOG_STATES = [
  'in-custody',
  'in-freezer',
  'queued',
  'claimed',
  'thawing',
  'on-the-bench',
] as const satisfies readonly CarcassState[];

/** What a carcass becomes; the carcass itself is one too. */
export const MATERIAL_KINDS = [
  'carcass',
  'skin',
  'skeleton',
  'vial',
  'wing',
  'flat-skin',
  'fluid',
  'stomach',
  'other',
] as const;
export const materialKindSchema = z.enum(MATERIAL_KINDS);
export type MaterialKind = z.infer<typeof materialKindSchema>;

/** Where a material stands beside its progress: in the collection's hands, or not. */
export const CUSTODY_STATES = ['on-shelf', 'on-loan', 'missing', 'used-up', 'deaccessioned'] as const;
export const custodyStateSchema = z.enum(CUSTODY_STATES);
export type CustodyState = z.infer<typeof custodyStateSchema>;

/** Letters that a material's suffix begins with, one a kind: a setting. */
export const suffixLettersSchema = z
  .record(materialKindSchema, z.string().regex(/^[A-Z]{1,3}$/))
  .default({
    carcass: 'C',
    skin: 'S',
    skeleton: 'B',
    vial: 'T',
    wing: 'W',
    'flat-skin': 'F',
    fluid: 'A',
    stomach: 'G',
    other: 'X',
  })
  .refine(
    (letters) => new Set(Object.values(letters)).size === MATERIAL_KINDS.length,
    'Two kinds share letters.',
  );
export type SuffixLetters = z.infer<typeof suffixLettersSchema>;

export const PREPARATION_STYLES = [
  'skin-with-partial-skeleton',
  'whole-skeleton',
  'spread-wing-with-skin',
  'flat-skin',
  'fluid',
  'tissue-only',
  'discard',
] as const;
export const preparationStyleSchema = z.enum(PREPARATION_STYLES);
export type PreparationStyle = z.infer<typeof preparationStyleSchema>;

/** Size classes by mass; their limits are a setting (`sizeSettingsSchema`). */
export const SIZE_CLASSES = ['tiny', 'small', 'medium', 'large', 'very-large'] as const;
export const sizeClassSchema = z.enum(SIZE_CLASSES);
export type SizeClass = z.infer<typeof sizeClassSchema>;

/** How far somebody is with a style and size: learns it, does it beside a supervisor, does it alone. */
export const SKILL_LEVELS = ['training', 'supervised', 'alone'] as const;
export const skillLevelSchema = z.enum(SKILL_LEVELS);
export type SkillLevel = z.infer<typeof skillLevelSchema>;

export const skillSchema = z.object({
  style: preparationStyleSchema,
  sizeClass: sizeClassSchema,
  level: skillLevelSchema,
});
export type Skill = z.infer<typeof skillSchema>;

/** A skill signed off by a supervisor on a day. */
export const signSkillSchema = skillSchema.extend({
  personId: z.uuid(),
  remark: z.string().max(500).optional(),
});

/** Why a bird must wait. */
export const HOLD_KINDS = ['disease', 'legal', 'evidence', 'missing-data', 'thaw'] as const;
export const holdKindSchema = z.enum(HOLD_KINDS);
export type HoldKind = z.infer<typeof holdKindSchema>;

export const CARCASS_CONDITIONS = ['fresh', 'good', 'fair', 'poor', 'remains', 'unknown'] as const;
export const carcassConditionSchema = z.enum(CARCASS_CONDITIONS);
export type CarcassCondition = z.infer<typeof carcassConditionSchema>;

const isoDay = givenDay();

export const REQUEST_URGENCIES = ['when-possible', 'soon', 'now'] as const;
export const requestSchema = z.object({
  byName: z.string(),
  urgency: z.enum(REQUEST_URGENCIES),
  reason: z.string().max(500).optional(),
});

/** How many of something are catalogued, against how many the collection wants. */
export const collectionGapSchema = z.object({
  /** What is counted, as said to a person: "Turdus migratorius", "females", "March to May". */
  what: z.string(),
  catalogued: z.int().min(0),
  wanted: z.int().min(1),
});

/** What the priority of one bird is computed from. */
export const priorityFactsSchema = z.object({
  birdId: z.string(),
  label: z.string(),
  daysInFreezer: z.number().min(0).nullable(),
  freezerC: z.number().nullable(),
  condition: carcassConditionSchema,
  gaps: z.array(collectionGapSchema),
  permitDaysLeft: z.number().nullable(),
  request: requestSchema.nullable(),
  jobMinutes: z.number().positive().nullable(),
  holds: z.array(holdKindSchema),
});
export type PriorityFacts = z.infer<typeof priorityFactsSchema>;

export const PRIORITY_COMPONENTS = [
  'freezer-time',
  'condition',
  'collection-need',
  'permit-deadline',
  'tissue-quality',
  'request',
  'job-size',
] as const;
export type PriorityComponent = (typeof PRIORITY_COMPONENTS)[number];

const weight = (start: number) => z.number().min(0).max(10).default(start);
/** Weight of each component, 0 (ignored) to 10. */
export const priorityWeightsSchema = z.object({
  'freezer-time': weight(2),
  condition: weight(1),
  'collection-need': weight(3),
  'permit-deadline': weight(3),
  'tissue-quality': weight(2),
  request: weight(4),
  'job-size': weight(1),
});
export type PriorityWeights = z.infer<typeof priorityWeightsSchema>;

/** Where each component's score reaches its ends. Start values: common practice, no source. */
export const priorityScalesSchema = z.object({
  freezerDaysFull: z.number().positive().default(730),
  permitDaysHorizon: z.number().positive().default(180),
  tissueHalfLifeDays: z.number().positive().default(365),
  tissueSafeAtC: z.number().default(-70),
  jobMinutesFull: z.number().positive().default(480),
});
export type PriorityScales = z.infer<typeof priorityScalesSchema>;

const byStyleAndSize = <T extends z.ZodType>(value: T) =>
  z.partialRecord(preparationStyleSchema, z.partialRecord(sizeClassSchema, value));

/** Upper limit of each size class in grams and the hours a carcass of it is taken out of the freezer ahead of work. */
export const sizeSettingsSchema = z.object({
  upToMassG: z
    .object({ tiny: z.number(), small: z.number(), medium: z.number(), large: z.number() })
    .default({ tiny: 20, small: 100, medium: 500, large: 2000 })
    .refine((g) => g.tiny < g.small && g.small < g.medium && g.medium < g.large, 'Limits must rise.'),
  /** Thaw lead times: common practice, no source; a setting of the lab. */
  leadHours: z
    .record(sizeClassSchema, z.number().min(0).max(120))
    .default({ tiny: 1, small: 3, medium: 12, large: 24, 'very-large': 48 }),
});
export type SizeSettings = z.infer<typeof sizeSettingsSchema>;

export const claimSettingsSchema = z.object({
  maxOpenClaims: z.int().min(1).max(50).default(3),
  claimDays: z.int().min(1).max(365).default(14),
  noticeDays: z.int().min(0).max(60).default(3),
});
export type ClaimSettings = z.infer<typeof claimSettingsSchema>;

export const timeSettingsSchema = z.object({
  /** With fewer records than this the start value is used, and said to be. */
  minimumRecords: z.int().min(1).default(5),
  startMinutes: byStyleAndSize(z.number().positive()).default({}),
});
export type TimeSettings = z.infer<typeof timeSettingsSchema>;

export const planSettingsSchema = z.object({
  benchPlaces: z.int().min(1).max(200).default(6),
  traineesPerSupervisor: z.int().min(1).max(10).default(2),
  /** Time that a supervisor gives to each person beside them, in minutes a day. */
  supervisionMinutes: z.int().min(0).max(240).default(30),
  supervisedFactor: z.number().min(1).max(5).default(1.3),
  trainingFactor: z.number().min(1).max(5).default(2),
  maxBirdsPerPerson: z.int().min(1).max(50).default(10),
  /** Points, against a bird's priority 0..100: what it costs that somebody goes home without a bird. */
  idlePoints: z.int().min(0).max(1000).default(100),
  /** Points: how much a bird rather goes to somebody who has had fewer hours this season. */
  balancePoints: z.int().min(0).max(1000).default(20),
  /** 0: many small birds win over one large. 1: priority counts in proportion to a bird's hours. */
  sizeFairness: z.number().min(0).max(1).default(0.5),
});
export type PlanSettings = z.infer<typeof planSettingsSchema>;

const minuteOfDay = z.int().min(0).max(1440);
export const planPersonSchema = z
  .object({
    personId: z.string(),
    name: z.string(),
    fromMinute: minuteOfDay,
    untilMinute: minuteOfDay,
    skills: z.array(skillSchema),
    /** May stand beside those who do not work alone, in whatever they do alone themselves. */
    supervises: z.boolean().default(false),
    minutesThisSeason: z.number().min(0).default(0),
  })
  .refine((person) => person.fromMinute < person.untilMinute, 'Leaves before coming.');
export type PlanPerson = z.infer<typeof planPersonSchema>;

export const planBirdSchema = z.object({
  birdId: z.string(),
  label: z.string(),
  style: preparationStyleSchema,
  sizeClass: sizeClassSchema,
  priority: z.number().min(0).max(100),
  /** Time a person who works alone needs. */
  minutes: z.int().positive(),
  held: z.boolean().default(false),
  /** Must be done this day: thawed already, or its deadline falls. */
  required: z.boolean().default(false),
  /** Somebody's claimed bird: nobody else may be given it. */
  onlyFor: z.string().optional(),
});
export type PlanBird = z.infer<typeof planBirdSchema>;

const handChange = z.object({ personId: z.string(), birdId: z.string() });
export const planProblemSchema = z.object({
  planOn: isoDay,
  people: z.array(planPersonSchema).max(200),
  birds: z.array(planBirdSchema).max(5000),
  /** Hand changes that are kept: this bird to this person. */
  fixed: z.array(handChange).default([]),
  /** Hand changes that are kept: this bird not to this person. */
  barred: z.array(handChange).default([]),
  settings: planSettingsSchema,
});
export type PlanProblem = z.infer<typeof planProblemSchema>;

/** Facets of the queue page; lists mean "any of". */
export const queueFiltersSchema = z.object({
  styles: z.array(preparationStyleSchema).optional(),
  sizeClasses: z.array(sizeClassSchema).optional(),
  states: z.array(carcassStateSchema).optional(),
  freezerId: z.uuid().optional(),
  taxonId: z.uuid().optional(),
  held: z.boolean().optional(),
  claimedById: z.uuid().optional(),
  /** Only birds that this person may take. */
  forPersonId: z.uuid().optional(),
  requiresLevel: skillLevelSchema.optional(),
  text: z.string().max(200).optional(),
});
export type QueueFilters = z.infer<typeof queueFiltersSchema>;

/** A line of the queue as pages show it. */
export const queueEntrySchema = z.object({
  birdId: z.string(),
  number: z.string(),
  taxon: z.string(),
  state: carcassStateSchema,
  style: preparationStyleSchema.nullable(),
  sizeClass: sizeClassSchema,
  massG: z.number().positive().nullable(),
  priority: z.number().min(0).max(100),
  holds: z.array(holdKindSchema),
  freezerPath: z.array(z.string()),
  claimedByName: z.string().nullable(),
  claimExpiresAt: z.iso.datetime().nullable(),
  version: z.int32(),
});
export type QueueEntry = z.infer<typeof queueEntrySchema>;

export const takeBirdSchema = z.object({
  version: z.int32(),
  /** Needed by those who do not do this style and size alone. */
  supervisorId: z.uuid().optional(),
});
export const putBackSchema = z.object({ version: z.int32(), reason: z.string().max(500).optional() });
export const handOverSchema = z.object({
  version: z.int32(),
  toPersonId: z.uuid(),
  reason: z.string().max(500).optional(),
});
/** Null: the claimant works alone again. */
export const coWorkSchema = z.object({ version: z.int32(), withPersonId: z.uuid().nullable() });
