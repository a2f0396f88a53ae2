import 'server-only';
import { dateColumn, dayOf } from '@/lib/platform/clock';
import type { Tx } from '@/lib/platform/db';
import { findNeighbours, type Neighbour } from '../repo/records';
import { findGroupEvents, type GroupEvent } from '../rules/group-events';

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

/** Finds grouped by place and day across finders, among those whose days touch these. */
export async function loadGroups(tx: Tx, collectionId: string, from: Date, to: Date): Promise<Groups> {
  const neighbours = await findNeighbours(tx, collectionId, from, to);
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

/** Every find of a collection, for a check of all. */
export const EVER = { from: dateColumn('1500-01-01'), to: dateColumn('2999-12-31') };
