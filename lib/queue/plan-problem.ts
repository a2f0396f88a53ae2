import 'server-only';
import type { Tx } from '@/lib/platform/db';
import { say } from '@/lib/platform/words/say';
import type { PlanInput } from './plan-wire';
import { holdsOf } from './priorities';
import { findBenchPeople, findCollection, type QueueBird } from './repo/birds';
import { findFinishedJobs, sumBenchMinutes } from './repo/history';
import { findPlannable } from './repo/plans';
import { sizeOf, styleOf, toSkill } from './rows';
import { skillLevelFor } from './rules/claims';
import { learnTimes, type PreparationTime } from './rules/times';
import {
  type PlanBird,
  type PlanPerson,
  type PlanProblem,
  type PreparationStyle,
  planProblemSchema,
  type SizeClass,
} from './schema';
import { type QueueSettings, readQueueSettings } from './settings';

/** How far back the hours at the bench count when birds are shared out evenly. */
const SEASON_DAYS = 90;
const DAY_MS = 86_400_000;

export type BuiltProblem = {
  problem: PlanProblem;
  times: { style: PreparationStyle; sizeClass: SizeClass; sentence: string }[];
  dropped: string[];
};

type BenchPerson = Awaited<ReturnType<typeof findBenchPeople>>[number];
const isStaff = (person: BenchPerson) =>
  person.memberships.some(({ role }) => role === 'preparator' || role === 'curator');

/** Preparation times of the lab by style and size, learned from its bench records. */
export async function learnLabTimes(
  collectionId: string,
  settings: QueueSettings,
): Promise<PreparationTime[]> {
  const jobs = await findFinishedJobs(collectionId);
  const records = jobs.map(({ styleId, sizeClass, minutes }) => ({
    style: styleId as PreparationStyle,
    sizeClass: sizeClass as SizeClass,
    minutes,
  }));
  return learnTimes(records, settings.times);
}

function toPlanPerson(
  person: BenchPerson,
  guest: PlanInput['people'][number],
  facts: { claimed: readonly QueueBird[]; minutes: number },
): PlanPerson {
  const skills = person.skills.map(toSkill);
  // Bench staff may have taken a bird outside the skills signed off for them: it stays theirs.
  const held = isStaff(person) ? facts.claimed : [];
  const own = held.flatMap((bird) => {
    const style = styleOf(bird);
    if (style === null || skillLevelFor(skills, { style, sizeClass: sizeOf(bird) }) !== null) return [];
    return [{ style, sizeClass: sizeOf(bird), level: 'alone' as const }];
  });
  return {
    personId: person.id,
    name: person.name,
    fromMinute: guest.fromMinute,
    untilMinute: guest.untilMinute,
    skills: [...skills, ...own],
    supervises: isStaff(person),
    minutesThisSeason: facts.minutes,
  };
}

function toPlanBird(bird: QueueBird, times: readonly PreparationTime[]): PlanBird[] {
  const style = styleOf(bird);
  if (style === null) return [];
  const sizeClass = sizeOf(bird);
  const time = times.find((one) => one.style === style && one.sizeClass === sizeClass);
  return [
    {
      birdId: bird.id,
      label: bird.number,
      style,
      sizeClass,
      priority: Math.min(100, Math.max(0, bird.priority)),
      minutes: Math.max(1, Math.ceil(time?.minutes ?? 60)),
      held: holdsOf(bird).length > 0,
      // What thaws is prepared this day, by whom it was taken out for.
      required: bird.state === 'thawing',
      onlyFor: bird.claimedById ?? undefined,
    },
  ];
}

/**
 * A day's planning problem from the database: the queue with its priorities and holds, what those who come have
 * already taken (theirs alone; what thaws must be done), their skills, and times learned from the lab's records. Hand
 * changes about birds or people that are no longer there are left out and said.
 */
export async function buildPlanProblem(
  tx: Tx,
  collectionId: string,
  planOn: string,
  input: PlanInput,
  at: Date,
): Promise<BuiltProblem> {
  const ids = input.people.map(({ personId }) => personId);
  const [collection, everybody, birds, minutes] = await Promise.all([
    findCollection(tx, collectionId),
    findBenchPeople(collectionId),
    findPlannable(tx, collectionId, ids),
    sumBenchMinutes(collectionId, ids, new Date(at.getTime() - SEASON_DAYS * DAY_MS)),
  ]);
  const settings = readQueueSettings(collection.settings);
  const learned = await learnLabTimes(collectionId, settings);
  const people = input.people.flatMap((guest) => {
    const person = everybody.find(({ id }) => id === guest.personId);
    if (person === undefined) return [];
    const claimed = birds.filter((bird) => bird.claimedById === person.id);
    return [toPlanPerson(person, guest, { claimed, minutes: minutes.get(person.id) ?? 0 })];
  });
  const planBirds = birds.flatMap((bird) => toPlanBird(bird, learned));
  const personIds = new Set(people.map(({ personId }) => personId));
  const birdIds = new Set(planBirds.map(({ birdId }) => birdId));
  const stands = (change: { personId: string; birdId: string }) =>
    personIds.has(change.personId) && birdIds.has(change.birdId);
  const gone = [...input.fixed, ...input.barred].filter((change) => !stands(change)).length;
  const lost = ids.length - people.length;
  const kinds = new Set(planBirds.map(({ style, sizeClass }) => `${style}/${sizeClass}`));
  return {
    problem: planProblemSchema.parse({
      planOn,
      people,
      birds: planBirds,
      fixed: input.fixed.filter(stands),
      barred: input.barred.filter(stands),
      settings: { ...settings.plan, benchPlaces: input.benchPlaces },
    }),
    times: learned
      .filter(({ style, sizeClass }) => kinds.has(`${style}/${sizeClass}`))
      .map(({ style, sizeClass, sentence }) => ({ style, sizeClass, sentence })),
    dropped: [
      ...(gone === 0
        ? []
        : [
            gone === 1
              ? say('{gone} hand change names a bird or person no longer here.', { gone })
              : say('{gone} hand changes name a bird or person no longer here.', { gone }),
          ]),
      ...(lost === 0 ? [] : [say('{lost} of those named no longer work here.', { lost })]),
    ],
  };
}
