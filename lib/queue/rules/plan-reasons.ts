import { say, sayCode } from '@/lib/platform/words/say';
import type { PlanBird, PlanPerson, PlanProblem } from '../schema';
import { skillLevelFor } from './claims';
import { minutesFor, type PlanRule } from './plan-model';

const names = (list: readonly string[]): string => {
  if (list.length <= 1) return list[0] ?? say('nobody');
  if (list.length > 6)
    return say('{list} and {length} more', { list: list.slice(0, 5).join(', '), length: list.length - 5 });
  return say('{list} and {at}', { list: list.slice(0, -1).join(', '), at: list.at(-1) });
};
const stay = (person: PlanPerson) => person.untilMinute - person.fromMinute;
const freeBirds = ({ birds }: PlanProblem) => birds.filter((bird) => !bird.held);

/** Birds that must be done, by a hand change or their own nature. */
function demandedBirds({ birds, fixed }: PlanProblem): PlanBird[] {
  return birds.filter((bird) => bird.required || fixed.some((change) => change.birdId === bird.birdId));
}

function sayHolds(problem: PlanProblem): string {
  const held = demandedBirds(problem).filter((bird) => bird.held);
  if (held.length > 0)
    return held.length === 1
      ? say('{names} must be done but is on hold.', { names: held[0]?.label })
      : say('{names} must be done but are on hold.', { names: names(held.map((bird) => bird.label)) });
  return say('All {length} birds are on hold.', { length: problem.birds.length });
}

function saySkills(problem: PlanProblem): string {
  const demanded = demandedBirds(problem);
  const birds = demanded.length > 0 ? demanded : freeBirds(problem);
  const missing = birds.filter((bird) =>
    problem.people.every((person) => skillLevelFor(person.skills, bird) === null),
  );
  const kinds = [...new Set(missing.map((bird) => `${sayCode(bird.style)}, ${sayCode(bird.sizeClass)}`))];
  if (kinds.length > 0)
    return say('Nobody who comes has the skill for: {kinds}.', { kinds: kinds.slice(0, 4).join('; ') });
  return say(
    'The people who have the skill are not those the birds were given to, or are taken by other birds.',
  );
}

function saySupervision({ people, birds, settings }: PlanProblem): string {
  const needing = people.filter(
    (person) =>
      birds.some((bird) => skillLevelFor(person.skills, bird) !== null) &&
      birds.every((bird) => skillLevelFor(person.skills, bird) !== 'alone'),
  );
  const who =
    needing.length > 0
      ? say('{names} may not work alone.', { names: names(needing.map((person) => person.name)) })
      : '';
  const supervisors = people.filter((person) => person.supervises);
  if (supervisors.length === 0) return say('Nobody who comes may supervise. {who}', { who }).trim();
  const list = names(supervisors.map((person) => person.name));
  const limit = say('each stands beside at most {traineesPerSupervisor}', {
    traineesPerSupervisor: settings.traineesPerSupervisor,
  });
  return say(
    '{list} may supervise, but only what they do alone, only while both are there, and {limit}. {who}',
    { list, limit, who },
  ).trim();
}

function sayHours(problem: PlanProblem): string {
  const { people, settings } = problem;
  const longest = Math.max(0, ...people.map(stay));
  const demanded = demandedBirds(problem);
  const birds = demanded.length > 0 ? demanded : freeBirds(problem);
  const needs = people.flatMap((person) =>
    birds.flatMap((bird) => {
      const level = skillLevelFor(person.skills, bird);
      return level === null ? [] : [minutesFor(bird, level, settings)];
    }),
  );
  if (demanded.length > 0) {
    const total = demanded.reduce((sum, bird) => sum + bird.minutes, 0);
    return say(
      'The birds that must be done need {total} minutes and more for those who learn; nobody stays longer than {longest}, with at most {maxBirdsPerPerson} birds each.',
      { total, longest, maxBirdsPerPerson: settings.maxBirdsPerPerson },
    );
  }
  const shortest = needs.length > 0 ? Math.min(...needs) : 0;
  return say(
    'The shortest job takes {shortest} minutes for those who may do it; the longest stay is {longest} minutes.',
    { shortest, longest },
  );
}

function sayBench({ people, settings }: PlanProblem): string {
  const most = Math.max(
    0,
    ...people.map(
      (one) =>
        people.filter((other) => other.fromMinute <= one.fromMinute && one.fromMinute < other.untilMinute)
          .length,
    ),
  );
  return say(
    'There are {benchPlaces} bench places for up to {most} people at a time, supervisors included.',
    { benchPlaces: settings.benchPlaces, most },
  );
}

function sayHandChanges(problem: PlanProblem): string {
  const { fixed, people, birds } = problem;
  const said = fixed.map(({ personId, birdId }) => {
    const person = people.find((one) => one.personId === personId)?.name ?? personId;
    return say('{label} to {person}', {
      label: birds.find((one) => one.birdId === birdId)?.label ?? birdId,
      person,
    });
  });
  const musts = birds.filter((bird) => bird.required).map((bird) => bird.label);
  const parts = [
    said.length > 0 ? say('given by hand: {names}', { names: names(said) }) : '',
    musts.length > 0 ? say('must be done this day: {names}', { names: names(musts) }) : '',
    problem.barred.length > 0 ? say('{length} barred by hand', { length: problem.barred.length }) : '',
  ].filter((part) => part !== '');
  return say('These cannot all be kept: {parts}.', { parts: parts.join('; ') });
}

const SAY: Record<PlanRule, (problem: PlanProblem) => string> = {
  holds: sayHolds,
  skills: saySkills,
  supervision: saySupervision,
  hours: sayHours,
  'bench-places': sayBench,
  'hand-changes': sayHandChanges,
};

/** A sentence with the figures of a rule that makes a day impossible. */
export const sayRule = (rule: PlanRule, problem: PlanProblem): string => SAY[rule](problem);

/** Why somebody goes home without a bird in a plan that stands. */
export function whyIdle(person: PlanPerson, problem: PlanProblem): string {
  const levels = freeBirds(problem).flatMap((bird) => {
    const level = skillLevelFor(person.skills, bird);
    return level === null ? [] : [{ bird, level }];
  });
  if (levels.length === 0) return say('No bird in the queue is among their skills.');
  const short = levels.filter(({ bird, level }) => minutesFor(bird, level, problem.settings) <= stay(person));
  if (short.length === 0)
    return say('Every bird they may do takes longer than their {stay} minutes.', { stay: stay(person) });
  const beside = (bird: PlanBird) =>
    problem.people.some((other) => {
      const together =
        Math.min(person.untilMinute, other.untilMinute) - Math.max(person.fromMinute, other.fromMinute);
      return (
        other !== person && other.supervises && together > 0 && skillLevelFor(other.skills, bird) === 'alone'
      );
    });
  if (short.every(({ bird, level }) => level !== 'alone' && !beside(bird)))
    return say('They need a supervisor for every bird they may do, and none is there with them.');
  return say('The bench places, supervisors or birds that would suit them are better used by others.');
}
