import { z } from 'zod';
import { givenDay } from '@/lib/platform/days';
import { pageOf, pageQuery } from '@/lib/platform/paging';
import { preparationStyleSchema, sizeClassSchema, skillLevelSchema } from './schema';
import { queueRow } from './wire';

/** What is asked for and answered about day plans. */
export const PLAN_STATES = [
  'asked',
  'working',
  'proposed',
  'no-plan',
  'stopped',
  'failed',
  'in-force',
  'set-aside',
] as const;
export type PlanState = (typeof PLAN_STATES)[number];

const minute = z.number().int().min(0).max(1440);
export const planGuest = z
  .object({ personId: z.uuid(), fromMinute: minute, untilMinute: minute })
  .refine((person) => person.fromMinute < person.untilMinute, 'Leaves before coming.');
export type PlanGuest = z.infer<typeof planGuest>;

const handChange = z.object({ personId: z.uuid(), birdId: z.uuid() });
export type HandChange = z.infer<typeof handChange>;

const inputShape = {
  people: z
    .array(planGuest)
    .min(1, 'Say who comes.')
    .max(200)
    .refine((all) => new Set(all.map((one) => one.personId)).size === all.length, 'Somebody is named twice.'),
  benchPlaces: z.number().int().min(1, 'At least one place.').max(200),
  fixed: z.array(handChange).max(1000).default([]),
  barred: z.array(handChange).max(1000).default([]),
  /** The longest the solver may take. */
  seconds: z.number().int().min(1).max(120).default(10),
};
export const planRequest = z.object({ planOn: givenDay(), ...inputShape });
export type PlanRequest = z.output<typeof planRequest>;
export const planInput = z.object(inputShape);
export type PlanInput = z.output<typeof planInput>;
export const planChange = planInput.extend({ version: z.int32() });
export type PlanChange = z.output<typeof planChange>;
export const planVersion = z.object({ version: z.int32() });

const sentence = z.object({ rule: z.string(), sentence: z.string() });
const plannedBird = z.object({
  personId: z.string(),
  birdId: z.string(),
  level: skillLevelSchema,
  supervisorId: z.string().nullable(),
  minutes: z.number(),
  priority: z.number(),
  startAt: z.string(),
  endAt: z.string(),
});

/** What the solver said, as it is kept. */
export const planResult = z.discriminatedUnion('outcome', [
  z.object({
    outcome: z.enum(['proved-best', 'best-found']),
    quality: z.string(),
    birds: z.array(plannedBird),
    supervision: z.array(z.object({ personId: z.string(), supervisorId: z.string() })),
    idle: z.array(z.object({ personId: z.string(), reason: z.string() })),
    cost: z.number(),
    costBound: z.number(),
  }),
  z.object({ outcome: z.literal('infeasible'), rules: z.array(sentence) }),
  z.object({ outcome: z.enum(['nothing-to-plan', 'no-plan-found']), sentence: z.string() }),
]);
export type PlanResult = z.infer<typeof planResult>;

const refusal = z.object({ birdId: z.string(), personId: z.string(), reason: z.string() });
export type Refusal = z.infer<typeof refusal>;

const planTime = z.object({
  style: preparationStyleSchema,
  sizeClass: sizeClassSchema,
  sentence: z.string(),
});

/** The outcome column of a plan. */
export const storedOutcome = z.object({
  result: planResult.nullable().default(null),
  /** Where the minutes of each kind of work come from. */
  times: z.array(planTime).default([]),
  /** Hand changes that could not be kept because the bird or the person is gone. */
  dropped: z.array(z.string()).default([]),
  /** Birds that could not be given when the plan was put in force. */
  refused: z.array(refusal).default([]),
});
export type StoredOutcome = z.output<typeof storedOutcome>;

export const planLine = plannedBird.extend({
  bird: queueRow,
  byHand: z.boolean(),
  /** Why the bird is not with this person although the plan is in force; null when all is well. */
  refused: z.string().nullable(),
});
export type PlanLine = z.infer<typeof planLine>;

export const pullLine = z.object({
  birdId: z.string(),
  label: z.string(),
  path: z.array(z.string()),
  personName: z.string(),
  sizeClass: sizeClassSchema,
  isThawed: z.boolean(),
  startAt: z.string(),
  takeOutAt: z.string(),
  leadHours: z.number(),
});

export const dayPlan = z.object({
  id: z.uuid(),
  planOn: z.iso.date(),
  state: z.enum(PLAN_STATES),
  version: z.int32(),
  input: planInput,
  startedAt: z.string().nullable(),
  finishedAt: z.string().nullable(),
  createdBy: z.string(),
  people: z.array(planGuest.and(z.object({ name: z.string() }))),
  outcome: storedOutcome,
  lines: z.array(planLine),
  pull: z.array(z.object({ takeOutBy: z.string(), lines: z.array(pullLine) })),
  abilities: z.object({
    change: z.boolean(),
    putInForce: z.boolean(),
    stop: z.boolean(),
    setAside: z.boolean(),
  }),
});
export type DayPlanAnswer = z.infer<typeof dayPlan>;

export const planListQuery = pageQuery;
export const planSummary = z.object({
  id: z.uuid(),
  planOn: z.iso.date(),
  state: z.enum(PLAN_STATES),
  people: z.number().int(),
  birds: z.number().int(),
  quality: z.string().nullable(),
});
export type PlanSummary = z.infer<typeof planSummary>;
export const planPage = pageOf(planSummary);

/** What a new plan starts from. */
export const planDefaults = z.object({ today: z.iso.date(), benchPlaces: z.number().int() });
