import 'server-only';
import { dayOf } from '@/lib/platform/clock';
import { daysBetween } from '@/lib/platform/days';
import type { Tx } from '@/lib/platform/db';
import { type Days, findNeighbours, type Neighbour } from '../repo/records';
import { findGroupEvents, type GroupEvent, longestRangeDays } from '../rules/group-events';

/** Birds of one place and day from which law enforcement is told: 50 CFR 21.16(f). */
export const SEVERAL_DEAD = 5;

export type Groups = {
  /** Dead birds surely found with this one, itself among them. */
  sizeOf(id: string, own: number): number;
  /** The event of several dead birds that this find belongs to, or may belong to. */
  eventOf(id: string): GroupEvent | null;
};

const placeKey = ({ country, stateProvince, county, locality }: Neighbour) =>
  [country, stateProvince, county, locality].map((part) => part.trim().toLowerCase()).join('|');

/** Finds grouped by place and day across finders: those whose days touch these, or all of the collection. */
export async function loadGroups(tx: Tx, collectionId: string, days?: Days): Promise<Groups> {
  // A find dated no better than this is in no group.
  const isVague = days !== undefined && daysBetween(dayOf(days.from), dayOf(days.to)) > longestRangeDays;
  const neighbours = isVague ? [] : await findNeighbours(tx, collectionId, days);
  const events = findGroupEvents(
    neighbours.map((find) => ({
      id: find.id,
      earliestOn: dayOf(find.foundFrom),
      latestOn: dayOf(find.foundTo),
      placeKey: placeKey(find),
      latitude: find.latitude,
      longitude: find.longitude,
      quantity: find.quantity,
    })),
    2,
  );
  const byFind = new Map<string, GroupEvent[]>();
  for (const event of events) {
    for (const id of event.findIds) byFind.set(id, [...(byFind.get(id) ?? []), event]);
  }
  const largest = (id: string, fits: (event: GroupEvent) => boolean): GroupEvent | null =>
    (byFind.get(id) ?? [])
      .filter(fits)
      .reduce<GroupEvent | null>(
        (most, event) => (most === null || event.birds > most.birds ? event : most),
        null,
      );
  return {
    sizeOf: (id, own) => largest(id, ({ certainty }) => certainty === 'certain')?.birds ?? own,
    eventOf: (id) => largest(id, ({ birds }) => birds >= SEVERAL_DEAD),
  };
}
