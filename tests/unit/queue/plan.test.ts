import fc from 'fast-check';
import { describe, expect, it, vi } from 'vitest';
import { type DayPlan, type PlanOutcome, planDay } from '@/lib/queue/plan';
import {
  type PlanBird,
  type PlanPerson,
  type PlanProblem,
  planProblemSchema,
  planSettingsSchema,
  type SkillLevel,
} from '@/lib/queue/schema';
import { leastCost } from './brute-force';

// Long computations: a busy machine may need a while.
vi.setConfig({ testTimeout: 120_000 });

const STYLES = ['skin-with-partial-skeleton', 'whole-skeleton'] as const;
const SIZES = ['small', 'large'] as const;
const skill = (level: SkillLevel, style: (typeof STYLES)[number] = 'whole-skeleton') => ({
  style,
  sizeClass: 'small' as const,
  level,
});
const person = (personId: string, change: Partial<PlanPerson> = {}): PlanPerson => ({
  personId,
  name: personId,
  fromMinute: 540,
  untilMinute: 720,
  skills: [skill('alone')],
  supervises: false,
  minutesThisSeason: 0,
  ...change,
});
const bird = (birdId: string, change: Partial<PlanBird> = {}): PlanBird => ({
  birdId,
  label: birdId,
  style: 'whole-skeleton',
  sizeClass: 'small',
  priority: 50,
  minutes: 60,
  held: false,
  required: false,
  ...change,
});
const problem = (
  people: PlanPerson[],
  birds: PlanBird[],
  change: Partial<PlanProblem> = {},
): PlanProblem => ({
  planOn: '2026-03-05',
  people,
  birds,
  fixed: [],
  barred: [],
  settings: planSettingsSchema.parse({}),
  ...change,
});
function plan(outcome: PlanOutcome): DayPlan {
  if (outcome.outcome !== 'proved-best' && outcome.outcome !== 'best-found')
    throw new Error(JSON.stringify(outcome));
  return outcome;
}
const rulesOf = (outcome: PlanOutcome) =>
  outcome.outcome === 'infeasible' ? outcome.rules.map((one) => one.rule) : outcome.outcome;

const anyPerson = fc.record({
  fromMinute: fc.constantFrom(540, 600, 660),
  untilMinute: fc.constantFrom(720, 780, 900),
  skills: fc.uniqueArray(
    fc.record({
      style: fc.constantFrom(...STYLES),
      sizeClass: fc.constantFrom(...SIZES),
      level: fc.constantFrom<SkillLevel>('training', 'supervised', 'alone', 'alone'),
    }),
    { selector: (one) => `${one.style}/${one.sizeClass}`, minLength: 1, maxLength: 3 },
  ),
  supervises: fc.boolean(),
  minutesThisSeason: fc.integer({ min: 0, max: 2000 }),
});
const anyBird = fc.record({
  style: fc.constantFrom(...STYLES),
  sizeClass: fc.constantFrom(...SIZES),
  priority: fc.integer({ min: 0, max: 100 }),
  minutes: fc.constantFrom(30, 60, 100),
  held: fc.integer({ min: 0, max: 9 }).map((n) => n === 0),
  required: fc.integer({ min: 0, max: 14 }).map((n) => n === 0),
});
const anySettings = fc.record({
  benchPlaces: fc.integer({ min: 1, max: 4 }),
  traineesPerSupervisor: fc.integer({ min: 1, max: 2 }),
  supervisionMinutes: fc.constantFrom(0, 30),
  maxBirdsPerPerson: fc.integer({ min: 1, max: 4 }),
});
const change = (people: number, birds: number) =>
  fc.record({
    personId: fc.nat(people - 1).map((n) => `p${n}`),
    birdId: fc.nat(birds - 1).map((n) => `b${n}`),
  });
const anyProblem = (people: number, birds: number) =>
  fc
    .record({
      people: fc.array(anyPerson, { minLength: people, maxLength: people }),
      birds: fc.array(anyBird, { minLength: birds, maxLength: birds }),
      settings: anySettings,
      fixed: fc.uniqueArray(change(people, birds), { selector: (one) => one.birdId, maxLength: 1 }),
      barred: fc.array(change(people, birds), { maxLength: 2 }),
    })
    .map(({ people: who, birds: what, ...rest }) =>
      planProblemSchema.parse({
        planOn: '2026-03-05',
        people: who.map((one, at) => ({ ...one, personId: `p${at}`, name: `P${at}` })),
        birds: what.map((one, at) => ({ ...one, birdId: `b${at}`, label: `B${at}` })),
        ...rest,
      }),
    );

/** Every rule of a day, checked on a finished plan. */
function expectRulesKept(day: PlanProblem, { birds, supervision }: DayPlan) {
  expect(new Set(birds.map((one) => one.birdId)).size).toBe(birds.length);
  for (const { personId, birdId, level, supervisorId, startAt, endAt } of birds) {
    const worker = day.people.find((one) => one.personId === personId);
    const given = day.birds.find((one) => one.birdId === birdId);
    expect(worker?.skills).toContainEqual({ style: given?.style, sizeClass: given?.sizeClass, level });
    expect(given?.held).toBe(false);
    expect(supervisorId === null).toBe(level === 'alone');
    if (supervisorId !== null) expect(supervision).toContainEqual({ personId, supervisorId });
    const minuteOf = (at: string) => Number(at.slice(11, 13)) * 60 + Number(at.slice(14));
    expect(minuteOf(startAt)).toBeGreaterThanOrEqual(worker?.fromMinute ?? 0);
    const last =
      day.people.find((one) => one.personId === supervisorId)?.untilMinute ?? Number.POSITIVE_INFINITY;
    expect(minuteOf(endAt)).toBeLessThanOrEqual(Math.min(worker?.untilMinute ?? 0, last));
  }
  for (const fixed of day.fixed) expect(birds).toContainEqual(expect.objectContaining(fixed));
  for (const barred of day.barred) expect(birds).not.toContainEqual(expect.objectContaining(barred));
}

const SIZES_UP_TO_SIX = [1, 2, 3, 4, 5, 6].flatMap((people) =>
  [1, 2, 3, 4, 5, 6].map((birds) => ({ people, birds })),
);

describe('small days against every possible giving', () => {
  it.each(SIZES_UP_TO_SIX)(
    '$people people, $birds birds',
    async ({ people, birds }) => {
      await fc.assert(
        fc.asyncProperty(anyProblem(people, birds), async (day) => {
          const outcome = await planDay(day, 20);
          const least = leastCost(day);
          if (least === null) {
            expect(outcome.outcome).toBe('infeasible');
            return;
          }
          const found = plan(outcome);
          expect(found.outcome).toBe('proved-best');
          expect(found.cost).toBe(least);
          expectRulesKept(day, found);
        }),
        { numRuns: people + birds > 10 ? 4 : 12 },
      );
    },
    60_000,
  );
});

describe('what a plan cares for', () => {
  it('takes the most urgent birds when there is not time for all', async () => {
    const birds = [
      bird('low', { priority: 10 }),
      bird('high', { priority: 90 }),
      bird('mid', { priority: 50 }),
    ];
    const day = problem([person('ines', { untilMinute: 660 })], birds);
    const found = plan(await planDay(day, 10));
    expect(found.birds.map((one) => one.birdId)).toEqual(['high', 'mid']);
    expect(found.birds.map((one) => [one.startAt, one.endAt])).toEqual([
      ['2026-03-05T09:00', '2026-03-05T10:00'],
      ['2026-03-05T10:00', '2026-03-05T11:00'],
    ]);
  });

  it('gives a bird to the one who has had fewer hours this season', async () => {
    const people = [
      person('often', { minutesThisSeason: 900 }),
      person('seldom', { minutesThisSeason: 100 }),
    ];
    expect(plan(await planDay(problem(people, [bird('b')]), 10)).birds[0]?.personId).toBe('seldom');
  });

  it('keeps hand changes and plans the rest around them', async () => {
    const people = [person('often', { minutesThisSeason: 900 }), person('seldom')];
    const day = problem(people, [bird('b'), bird('c')], {
      fixed: [{ personId: 'often', birdId: 'b' }],
      barred: [{ personId: 'often', birdId: 'c' }],
    });
    const found = plan(await planDay(day, 10));
    expect(Object.fromEntries(found.birds.map((one) => [one.birdId, one.personId]))).toEqual({
      b: 'often',
      c: 'seldom',
    });
  });

  it('puts a trainee beside a supervisor and starts when both are there', async () => {
    const trainee = person('nils', { skills: [skill('training')], untilMinute: 900 });
    const teacher = person('oda', { supervises: true, fromMinute: 600, untilMinute: 900 });
    const found = plan(await planDay(problem([trainee, teacher], [bird('a'), bird('b')]), 10));
    expect(found.supervision).toEqual([{ personId: 'nils', supervisorId: 'oda' }]);
    const own = found.birds.find((one) => one.personId === 'nils');
    expect(own).toMatchObject({ level: 'training', minutes: 120, startAt: '2026-03-05T10:00' });
  });

  it('takes the time given to each trainee from the supervisor, and no more trainees than the setting', async () => {
    const trainees = ['nils', 'pia', 'tom'].map((id) => person(id, { skills: [skill('supervised')] }));
    const teacher = person('oda', { supervises: true });
    const birds = Array.from({ length: 12 }, (_, at) => bird(`b${at}`));
    const found = plan(await planDay(problem([...trainees, teacher], birds), 10));
    // Three hours less twice 30 minutes leave two birds of an hour; 180 minutes at 78 each leave a trainee two.
    expect(found.birds.filter((one) => one.personId === 'oda')).toHaveLength(2);
    expect(found.supervision).toHaveLength(2);
    expect(found.birds).toHaveLength(6);
    expect(found.idle).toHaveLength(1);
  });

  it('says why somebody goes home without a bird', async () => {
    const people = [
      person('ines'),
      person('unskilled', { skills: [] }),
      person('hasty', { untilMinute: 550 }),
      person('trainee', { skills: [skill('training')] }),
      person('spare'),
    ];
    const found = plan(await planDay(problem(people, [bird('a')]), 10));
    const reasons = Object.fromEntries(found.idle.map((one) => [one.personId, one.reason]));
    expect(reasons.unskilled).toMatch(/among their skills/);
    expect(reasons.hasty).toMatch(/longer than their 10 minutes/);
    expect(reasons.trainee).toMatch(/need a supervisor/);
    expect(found.idle).toHaveLength(4);
  });

  it('refuses a hand change that names somebody who is not there', async () => {
    const day = problem([person('ines')], [bird('a')], { fixed: [{ personId: 'gone', birdId: 'a' }] });
    await expect(planDay(day, 10)).rejects.toThrow(/gone/);
  });
});

describe('a day that cannot be', () => {
  const trainee = person('nils', { skills: [skill('training')] });

  it('no supervisor: says that rule, and only that', async () => {
    const outcome = await planDay(problem([trainee], [bird('a')]), 12);
    expect(outcome).toEqual({
      outcome: 'infeasible',
      rules: [{ rule: 'supervision', sentence: 'Nobody who comes may supervise. nils may not work alone.' }],
    });
  });

  it.each<[string, PlanProblem, string[]]>([
    [
      'nobody has the skill',
      problem([person('ines')], [bird('a', { sizeClass: 'large' })]),
      ['skills', 'supervision'],
    ],
    ['all birds on hold', problem([person('ines')], [bird('a', { held: true })]), ['holds']],
    ['nobody stays long enough', problem([person('ines')], [bird('a', { minutes: 500 })]), ['hours']],
    [
      'supervisor and trainee, one bench place',
      problem(
        [trainee, person('oda', { supervises: true })],
        [bird('a', { required: true }), bird('b', { required: true })],
        {
          fixed: [{ personId: 'nils', birdId: 'a' }],
          settings: planSettingsSchema.parse({ benchPlaces: 1 }),
        },
      ),
      ['bench-places', 'hand-changes'],
    ],
    [
      'one bird given to two people',
      problem([person('ines'), person('oda')], [bird('a')], {
        fixed: [
          { personId: 'ines', birdId: 'a' },
          { personId: 'oda', birdId: 'a' },
        ],
      }),
      ['hand-changes'],
    ],
    [
      'two birds that must be done, time for one',
      problem(
        [person('ines')],
        [bird('a', { required: true, minutes: 100 }), bird('b', { required: true, minutes: 100 })],
      ),
      ['hours', 'hand-changes'],
    ],
  ])('%s', async (_name, day, rules) => {
    expect(rulesOf(await planDay(day, 12))).toEqual(rules);
  });

  it('names several rules when only together they stand in the way', async () => {
    const day = problem([trainee], [bird('a', { held: true, minutes: 500 })]);
    expect(rulesOf(await planDay(day, 12))).toEqual(['holds', 'supervision', 'hours']);
  });

  it('nobody comes, or nothing waits: there is nothing to plan', async () => {
    expect(rulesOf(await planDay(problem([], [bird('a')]), 1))).toBe('nothing-to-plan');
    expect(rulesOf(await planDay(problem([trainee], []), 1))).toBe('nothing-to-plan');
  });
});
