import { z } from 'zod';
import { expectedDaysSchema } from '@/lib/platform/days';
import { phrases } from '@/lib/platform/words/say';

export const SKELETON_STATES = [
  'rough-cleaned',
  'cleaning',
  'dry',
  'pest-freeze',
  'counted',
  'shelved',
] as const;
export type SkeletonState = (typeof SKELETON_STATES)[number];

/** One step of a cleaning procedure, and the state a skeleton has while in it. */
export const cleaningStepSchema = z.strictObject({
  id: z.string().regex(/^[a-z0-9-]+$/),
  name: z.string().trim().min(1).max(80),
  state: z.enum(SKELETON_STATES),
  expectedDays: expectedDaysSchema,
  /** What can hurt people or bones at this step. */
  cautions: z.array(z.string().trim().min(1).max(300)),
});
export type CleaningStep = z.infer<typeof cleaningStepSchema>;

export const cleaningProcedureSchema = z
  .strictObject({
    id: z.string().regex(/^[a-z0-9-]+$/),
    name: z.string().trim().min(1).max(80),
    steps: z.array(cleaningStepSchema).min(1).max(30),
  })
  .refine(
    ({ steps }) => new Set(steps.map(({ id }) => id)).size === steps.length,
    'Two steps have the same name.',
  )
  .refine(({ steps }) => stepsGoForward(steps), 'A step leads back to an earlier state.');
export type CleaningProcedure = z.infer<typeof cleaningProcedureSchema>;

/** All procedures of a lab. */
export const proceduresSchema = z
  .array(cleaningProcedureSchema)
  .min(1, 'A lab has at least one procedure.')
  .max(30)
  .refine(
    (procedures) => new Set(procedures.map(({ id }) => id)).size === procedures.length,
    'Two procedures have the same id.',
  );

const stepsGoForward = (steps: readonly CleaningStep[]): boolean =>
  steps.every((step, index) => {
    const before = steps[index - 1];
    return !before || SKELETON_STATES.indexOf(before.state) <= SKELETON_STATES.indexOf(step.state);
  });

const LOCAL = 'Local rules decide.';
const SHARP = `Sharp bones and blades: gloves, cut away from the hand. ${LOCAL}`;
const DUST = `Fine dust and droppings can carry disease: work wet or under extraction, with a fitted mask. ${LOCAL}`;
const step = (
  id: string,
  name: string,
  state: SkeletonState,
  min: number,
  max: number,
  ...cautions: string[]
): CleaningStep => ({ id, name, state, expectedDays: { min, max }, cautions });

const flesh = phrases(
  step(
    'flesh',
    'Flesh',
    'rough-cleaned',
    0,
    1,
    SHARP,
    'Keep loose parts (tongue bones, kneecaps, toes) in a bag.',
  ),
);
const degrease = phrases(
  step(
    'degrease',
    'Degrease',
    'cleaning',
    2,
    30,
    `Solvents burn and ammonia stings: fume hood, gloves, no flame; never mix with bleach. ${LOCAL}`,
  ),
);
const rinse = phrases(
  step(
    'rinse',
    'Rinse',
    'cleaning',
    1,
    2,
    'Rinse over a fine sieve: ossicles and toe bones are lost down the sink.',
  ),
);
const dry = phrases(step('dry', 'Dry', 'dry', 2, 14, 'Dry slowly, out of the sun: bones crack.'));
const pestFreeze = phrases(
  step(
    'pest-freeze',
    'Pest freeze',
    'pest-freeze',
    6,
    10,
    'Dry bones only, sealed, in a chest freezer that does not defrost itself; let it reach room temperature before opening.',
  ),
);
const number = phrases(
  step(
    'number',
    'Number and count',
    'counted',
    0,
    2,
    'Ink on every bone large enough; the rest in labelled vials.',
  ),
);

/**
 * The procedures a lab starts with; all of it is editable. Durations: dermestids 2–14 days and drying are common practice
 * without a source; pest freezing 6–10 days at −20 °C is read in NPS Conserve O Gram 3/6.
 */
export const STARTING_PROCEDURES: readonly CleaningProcedure[] = phrases([
  {
    id: 'beetles',
    name: 'Dermestid beetles',
    steps: [
      flesh,
      step(
        'pre-dry',
        'Dry for the colony',
        'rough-cleaned',
        1,
        3,
        'No chemicals before the colony: they kill beetles.',
      ),
      step(
        'beetles',
        'In the colony',
        'cleaning',
        2,
        14,
        `Beetle frass and hairs cause allergy: mask, gloves, closed room. ${LOCAL}`,
        'Look daily: small bones are eaten when the flesh is gone. Nothing leaves the room unfrozen.',
      ),
      step(
        'colony-freeze',
        'Freeze out beetles',
        'cleaning',
        2,
        4,
        'Beetles that escape eat the collection.',
      ),
      degrease,
      rinse,
      dry,
      pestFreeze,
      number,
    ],
  },
  {
    id: 'maceration',
    name: 'Warm-water maceration',
    steps: [
      flesh,
      step(
        'maceration',
        'In warm water',
        'cleaning',
        4,
        21,
        `Stinks and breeds bacteria: hood, gloves, splash cover. ${LOCAL}`,
        DUST,
      ),
      rinse,
      degrease,
      dry,
      pestFreeze,
      number,
    ],
  },
  {
    id: 'enzymes',
    name: 'Enzymes',
    steps: [
      flesh,
      step(
        'enzymes',
        'In the enzyme bath',
        'cleaning',
        1,
        4,
        `Enzyme powder sensitises: weigh under extraction. ${LOCAL}`,
        'Stop in time: too long a bath softens bones.',
      ),
      rinse,
      degrease,
      dry,
      pestFreeze,
      number,
    ],
  },
]);
