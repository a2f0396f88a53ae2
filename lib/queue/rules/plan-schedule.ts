import type { PlanPerson, SkillLevel } from '../schema';

/** A bird given to a person, before it has a time. */
export type GivenBird = {
  personId: string;
  birdId: string;
  level: SkillLevel;
  supervisorId: string | null;
  minutes: number;
  priority: number;
};

/** Local date and time of the lab, without offset: 'YYYY-MM-DDTHH:mm'. */
export type LocalTime = string;

export type PlannedBird = GivenBird & { startAt: LocalTime; endAt: LocalTime };

/** Adds minutes (also negative) to a local date and time. */
export function addLocalMinutes(at: LocalTime, minutes: number): LocalTime {
  const instant = /^\d{4}-\d{2}-\d{2}T\d{2}:\d{2}$/.test(at) ? Date.parse(`${at}:00Z`) : Number.NaN;
  if (Number.isNaN(instant)) throw new RangeError(`Not a local time: ${at}`);
  return new Date(instant + Math.round(minutes) * 60_000).toISOString().slice(0, 16);
}

/**
 * Puts each person's birds one after the other, the most urgent first, from the moment they come; who works beside a
 * supervisor begins when both are there.
 */
export function scheduleDay(
  planOn: string,
  people: readonly PlanPerson[],
  given: readonly GivenBird[],
  supervisorOf: ReadonlyMap<string, string>,
): PlannedBird[] {
  const byId = new Map(people.map((person) => [person.personId, person]));
  return people.flatMap((person) => {
    const supervisor = byId.get(supervisorOf.get(person.personId) ?? '');
    let at = addLocalMinutes(`${planOn}T00:00`, Math.max(person.fromMinute, supervisor?.fromMinute ?? 0));
    const own = given.filter((bird) => bird.personId === person.personId);
    own.sort((a, b) => b.priority - a.priority || (a.birdId < b.birdId ? -1 : 1));
    return own.map((bird): PlannedBird => {
      const startAt = at;
      at = addLocalMinutes(at, bird.minutes);
      return { ...bird, startAt, endAt: at };
    });
  });
}
