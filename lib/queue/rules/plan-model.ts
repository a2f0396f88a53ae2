import type { PlanBird, PlanPerson, PlanProblem, PlanSettings, SkillLevel } from '../schema';
import { skillLevelFor } from './claims';

/** Rules of a day plan that a diagnosis can suspend, one at a time, to find out which one stands in the way. */
export const PLAN_RULES = [
  'holds',
  'skills',
  'supervision',
  'hours',
  'bench-places',
  'hand-changes',
] as const;
export type PlanRule = (typeof PLAN_RULES)[number];

/** Somebody who may do a kind of work: at what cost, in how long, beside whom (null: beside nobody). */
export type WorkOption = { person: number; cost: number; minutes: number; supervisors: number[] | null };

/** Birds that are alike for the plan but for what leaving them costs; highest first. */
export type WorkKind = { leaveCosts: number[]; required: boolean; options: WorkOption[] };

/**
 * A day as a minimum-cost assignment. Costs are whole numbers, so that a gap under one proves the best plan. Times in
 * minutes. `shared[trainee][supervisor]` is the time both are there.
 */
export type AssignmentModel = {
  people: { minutes: number; maxBirds: number; idleCost: number }[];
  kinds: WorkKind[];
  shared: number[][];
  traineesPerSupervisor: number;
  supervisionMinutes: number;
  bench: { people: number[]; places: number }[];
};

/** The model with the birds behind each kind, in the order of `leaveCosts`. */
export type DayModel = { model: AssignmentModel; birdsOfKind: number[][] };

const POINT = 10;
const UNLIMITED_MINUTES = 100_000;
const HOUR = 60;

const overlap = (a: PlanPerson, b: PlanPerson) =>
  Math.max(0, Math.min(a.untilMinute, b.untilMinute) - Math.max(a.fromMinute, b.fromMinute));

/** Minutes a person of this level needs for a bird. */
export function minutesFor(bird: PlanBird, level: SkillLevel, settings: PlanSettings): number {
  const factor = { alone: 1, supervised: settings.supervisedFactor, training: settings.trainingFactor }[
    level
  ];
  return Math.ceil(bird.minutes * factor);
}

/**
 * Costs in tenths of a point. Leaving a bird always costs more than the most that balance can ask, so that balance
 * moves birds between people and never leaves one lying.
 */
function sizeWorth(bird: PlanBird, settings: PlanSettings): number {
  return POINT * (bird.minutes / HOUR) ** settings.sizeFairness;
}
const leaveCost = (bird: PlanBird, settings: PlanSettings) =>
  Math.round(sizeWorth(bird, settings) * (settings.balancePoints + bird.priority)) + 1;

function optionsOf(bird: PlanBird, problem: PlanProblem, suspended: ReadonlySet<PlanRule>): WorkOption[] {
  const { people, settings } = problem;
  const mostMinutes = Math.max(1, ...people.map((person) => person.minutesThisSeason));
  const levels = people.map((person) => skillLevelFor(person.skills, bird));
  return people.flatMap((person, at): WorkOption[] => {
    if (bird.onlyFor !== undefined && bird.onlyFor !== person.personId) return [];
    const level = levels[at] ?? (suspended.has('skills') ? 'training' : null);
    if (level === null) return [];
    const alone = level === 'alone' || suspended.has('supervision');
    const supervisors = people.flatMap((other, index) => {
      const able = levels[index] === 'alone' || suspended.has('skills');
      return index !== at && other.supervises && able && overlap(person, other) > 0 ? [index] : [];
    });
    if (!alone && supervisors.length === 0) return [];
    const share = person.minutesThisSeason / mostMinutes;
    const cost = Math.round(sizeWorth(bird, settings) * settings.balancePoints * share);
    return [
      {
        person: at,
        cost,
        minutes: minutesFor(bird, level, settings),
        supervisors: alone ? null : supervisors,
      },
    ];
  });
}

/** The stretches of the day with the most people: one for each arrival. */
function benchWindows(people: readonly PlanPerson[], places: number): AssignmentModel['bench'] {
  return people.map((arriving) => ({
    people: people.flatMap((person, at) =>
      person.fromMinute <= arriving.fromMinute && arriving.fromMinute < person.untilMinute ? [at] : [],
    ),
    places,
  }));
}

/** What birds must share to be one kind of work; birds under a hand change, and those that must be done, stand alone. */
function kindKey(bird: PlanBird, touched: ReadonlySet<string>): string {
  const own = touched.has(bird.birdId) || bird.required ? bird.birdId : (bird.onlyFor ?? '');
  return [bird.style, bird.sizeClass, bird.minutes, own].join('/');
}

/**
 * States a day as a minimum-cost assignment. `suspended` rules are left out.
 * @throws RangeError when a hand change names a person or bird that is not in the problem.
 */
export function buildDayModel(problem: PlanProblem, suspended: ReadonlySet<PlanRule>): DayModel {
  const { people, birds, settings } = problem;
  const fixed = suspended.has('hand-changes') ? [] : problem.fixed;
  const barred = suspended.has('hand-changes') ? [] : problem.barred;
  checkNames(problem);
  const touched = new Set([...fixed, ...barred].map((change) => change.birdId));
  const groups = new Map<string, number[]>();
  birds.forEach((bird, at) => {
    const isFixed = fixed.some((change) => change.birdId === bird.birdId);
    if (bird.held && !suspended.has('holds') && !isFixed && !bird.required) return;
    const key = kindKey(bird, touched);
    groups.set(key, [...(groups.get(key) ?? []), at]);
  });
  const birdsOfKind = [...groups.values()].map((members) =>
    members.sort((a, b) => (birds[b]?.priority ?? 0) - (birds[a]?.priority ?? 0) || a - b),
  );
  const kinds = birdsOfKind.map((members): WorkKind => {
    const alike = members.flatMap((at) => birds[at] ?? []);
    const [first] = alike;
    if (first === undefined) throw new RangeError('A kind of work without a bird.');
    const given = fixed.filter((change) => change.birdId === first.birdId).map((change) => change.personId);
    const kept = barred.filter((change) => change.birdId === first.birdId).map((change) => change.personId);
    const held = first.held && !suspended.has('holds');
    const options = held ? [] : optionsOf(first, problem, suspended);
    const allowed = options.filter(({ person }) => {
      const id = people[person]?.personId ?? '';
      return (given.length === 0 || given.every((only) => only === id)) && !kept.includes(id);
    });
    const required = given.length > 0 || (first.required && !suspended.has('hand-changes'));
    return { leaveCosts: alike.map((bird) => leaveCost(bird, settings)), required, options: allowed };
  });
  return { model: modelOf(problem, kinds, suspended), birdsOfKind };
}

function modelOf(problem: PlanProblem, kinds: WorkKind[], suspended: ReadonlySet<PlanRule>): AssignmentModel {
  const { people, settings } = problem;
  const freeHours = suspended.has('hours');
  return {
    people: people.map((person) => ({
      minutes: freeHours ? UNLIMITED_MINUTES : person.untilMinute - person.fromMinute,
      maxBirds: freeHours ? Math.max(1, problem.birds.length) : settings.maxBirdsPerPerson,
      idleCost: settings.idlePoints * POINT,
    })),
    kinds,
    shared: people.map((a) => people.map((b) => (freeHours ? UNLIMITED_MINUTES : overlap(a, b)))),
    traineesPerSupervisor: suspended.has('supervision') ? people.length : settings.traineesPerSupervisor,
    supervisionMinutes: suspended.has('supervision') ? 0 : settings.supervisionMinutes,
    bench: suspended.has('bench-places') ? [] : benchWindows(people, settings.benchPlaces),
  };
}

function checkNames({ people, birds, fixed, barred }: PlanProblem): void {
  const personIds = new Set(people.map((person) => person.personId));
  const birdIds = new Set(birds.map((bird) => bird.birdId));
  for (const { personId, birdId } of [...fixed, ...barred])
    if (!personIds.has(personId) || !birdIds.has(birdId))
      throw new RangeError(`A hand change names ${personId} and ${birdId}, who are not both in the plan.`);
}
