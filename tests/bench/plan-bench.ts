import { performance } from 'node:perf_hooks';
import { runInThread } from '@/lib/queue/compute';
import { seededRandom } from '@/lib/queue/rules/random';
import { startMinutes } from '@/lib/queue/rules/times';
import { PREPARATION_STYLES, planProblemSchema, SIZE_CLASSES, timeSettingsSchema } from '@/lib/queue/schema';

/**
 * How long a day plan of 500 birds and 20 people takes, thread included.
 * `node --import tsx tests/bench/plan-bench.ts`
 */
const BIRDS = 500;
const PEOPLE = 20;
const SECONDS = 3;

function makeProblem(seed: number) {
  const random = seededRandom(seed);
  const pick = <T>(list: readonly T[]): T => list[Math.floor(random() * list.length)] as T;
  const styles = PREPARATION_STYLES.filter((style) => style !== 'discard');
  const levels = ['alone', 'alone', 'supervised', 'training'] as const;
  const people = Array.from({ length: PEOPLE }, (_, at) => {
    const fromMinute = 60 * (8 + Math.floor(random() * 3));
    return {
      personId: `p${at}`,
      name: `Person ${at}`,
      fromMinute,
      untilMinute: fromMinute + 60 * (3 + Math.floor(random() * 6)),
      supervises: at % 4 === 0,
      minutesThisSeason: Math.floor(random() * 5000),
      skills: styles.flatMap((style) =>
        SIZE_CLASSES.flatMap((sizeClass) =>
          at % 4 === 0
            ? [{ style, sizeClass, level: 'alone' as const }]
            : random() < 0.4
              ? [{ style, sizeClass, level: pick(levels) }]
              : [],
        ),
      ),
    };
  });
  const times = timeSettingsSchema.parse({});
  const birds = Array.from({ length: BIRDS }, (_, at) => {
    const style = pick(styles);
    const sizeClass = pick(SIZE_CLASSES);
    // As in the lab: one time for each style and size.
    const minutes = Math.ceil(startMinutes(style, sizeClass, times));
    const priority = 100 * random();
    return {
      birdId: `b${at}`,
      label: `Bird ${at}`,
      style,
      sizeClass,
      priority,
      minutes,
      held: random() < 0.05,
    };
  });
  return planProblemSchema.parse({ planOn: '2026-03-05', people, birds, settings: { benchPlaces: 12 } });
}

async function main(): Promise<void> {
  for (const seed of [1, 2, 3, 4, 5]) {
    const problem = makeProblem(seed);
    const begun = performance.now();
    const plan = await runInThread({ kind: 'plan', problem, seconds: SECONDS });
    const seconds = ((performance.now() - begun) / 1000).toFixed(2);
    const said = 'quality' in plan ? `${plan.birds.length} birds given. ${plan.quality}` : plan.outcome;
    console.log(`${BIRDS} birds × ${PEOPLE} people, seed ${seed}: ${seconds} s. ${said}`);
  }
}

void main();
