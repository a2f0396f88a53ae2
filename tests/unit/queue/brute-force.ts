import type { PlanBird, PlanPerson, PlanProblem, SkillLevel } from '@/lib/queue/schema';

/**
 * The least cost of a day by trying every way of giving birds to people: slow, and written from the rules alone, not
 * from the integer program. Null when no way gives anybody anything or a demanded bird cannot be done.
 */
export function leastCost(problem: PlanProblem): number | null {
  const { people, birds } = problem;
  let best: number | null = null;
  const takers: (number | null)[] = birds.map(() => null);
  const visit = (bird: number): void => {
    if (bird < birds.length) {
      for (const taker of [null, ...people.keys()]) {
        takers[bird] = taker;
        if (mayGive(problem, bird, taker)) visit(bird + 1);
      }
      return;
    }
    const cost = takers.some((taker) => taker !== null) ? costOf(problem, takers) : null;
    if (cost !== null && (best === null || cost < best)) best = cost;
  };
  visit(0);
  return best;
}

function levelOf(person: PlanPerson, bird: PlanBird): SkillLevel | undefined {
  return person.skills.find((skill) => skill.style === bird.style && skill.sizeClass === bird.sizeClass)
    ?.level;
}

function mayGive({ people, birds, fixed, barred }: PlanProblem, at: number, taker: number | null): boolean {
  const bird = birds[at];
  if (bird === undefined) return false;
  const given = fixed.filter((change) => change.birdId === bird.birdId);
  if (taker === null) return given.length === 0 && !bird.required;
  const person = people[taker];
  if (person === undefined || bird.held || levelOf(person, bird) === undefined) return false;
  const isBarred = barred.some(
    (change) => change.birdId === bird.birdId && change.personId === person.personId,
  );
  return !isBarred && given.every((change) => change.personId === person.personId);
}

const together = (a: PlanPerson, b: PlanPerson) =>
  Math.max(0, Math.min(a.untilMinute, b.untilMinute) - Math.max(a.fromMinute, b.fromMinute));

/** Cost of this giving with the best choice of supervisors, or null when the rules forbid it. */
function costOf(problem: PlanProblem, takers: readonly (number | null)[]): number | null {
  const { people, birds, settings } = problem;
  const needs = people.map((person, p) =>
    birds.filter((bird, b) => takers[b] === p && levelOf(person, bird) !== 'alone'),
  );
  const beside: (number | null)[] = people.map(() => null);
  let best: number | null = null;
  const choose = (p: number): void => {
    if (p === people.length) {
      const cost = checkedCost(problem, takers, beside);
      if (cost !== null && (best === null || cost < best)) best = cost;
      return;
    }
    const person = people[p];
    if (person === undefined || needs[p]?.length === 0) {
      beside[p] = null;
      choose(p + 1);
      return;
    }
    people.forEach((other, q) => {
      const able = needs[p]?.every((bird) => levelOf(other, bird) === 'alone') ?? false;
      if (q === p || !other.supervises || !able || together(person, other) === 0) return;
      beside[p] = q;
      choose(p + 1);
    });
  };
  const tooMany = people.some(
    (_, p) => takers.filter((taker) => taker === p).length > settings.maxBirdsPerPerson,
  );
  if (!tooMany) choose(0);
  return best;
}

function checkedCost(
  { people, birds, settings }: PlanProblem,
  takers: readonly (number | null)[],
  beside: readonly (number | null)[],
): number | null {
  const factor = { alone: 1, supervised: settings.supervisedFactor, training: settings.trainingFactor };
  const works = people.map((_, p) => takers.includes(p) || beside.includes(p));
  for (const [p, person] of people.entries()) {
    const trainees = beside.filter((one) => one === p).length;
    if (trainees > settings.traineesPerSupervisor) return null;
    const supervisor = people[beside[p] ?? -1];
    const stay = supervisor ? together(person, supervisor) : person.untilMinute - person.fromMinute;
    const minutes = birds.reduce((sum, bird, b) => {
      const level = levelOf(person, bird);
      return takers[b] === p && level ? sum + Math.ceil(bird.minutes * factor[level]) : sum;
    }, trainees * settings.supervisionMinutes);
    if (minutes > stay) return null;
    const present = people.filter(
      (other, q) =>
        works[q] && other.fromMinute <= person.fromMinute && person.fromMinute < other.untilMinute,
    );
    if (present.length > settings.benchPlaces) return null;
  }
  const most = Math.max(1, ...people.map((person) => person.minutesThisSeason));
  const idle = works.filter((one) => !one).length * settings.idlePoints * 10;
  return birds.reduce((sum, bird, b) => {
    // A bird on hold is not in the plan, so leaving it costs nothing.
    if (bird.held) return sum;
    const worth = 10 * (bird.minutes / 60) ** settings.sizeFairness;
    const taker = people[takers[b] ?? -1];
    if (taker === undefined) return sum + Math.round(worth * (settings.balancePoints + bird.priority)) + 1;
    return sum + Math.round((worth * settings.balancePoints * taker.minutesThisSeason) / most);
  }, idle);
}
