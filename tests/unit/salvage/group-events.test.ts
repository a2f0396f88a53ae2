import { describe, expect, it } from 'vitest';
import { findGroupEvents } from '@/lib/salvage/rules/group-events';
import { makeFind } from './build';

const several = (count: number, changes = {}) =>
  Array.from({ length: count }, (_, index) => makeFind(`f${index + 1}`, changes));

describe('several dead birds at one place and day (50 CFR 21.16(f): five or more)', () => {
  it('five are an event, four are not', () => {
    expect(findGroupEvents(several(4))).toEqual([]);
    expect(findGroupEvents(several(5))).toEqual([
      {
        fromOn: '2025-05-01',
        untilOn: '2025-05-01',
        findIds: ['f1', 'f2', 'f3', 'f4', 'f5'],
        birds: 5,
        certainty: 'certain',
      },
    ]);
  });

  it('another day or another place does not add', () => {
    const elsewhere = makeFind('f5', { placeKey: 'US-IL, Lake, marsh' });
    expect(findGroupEvents([...several(4), elsewhere])).toEqual([]);
    const later = makeFind('f5', { earliestOn: '2025-05-02', latestOn: '2025-05-02' });
    expect(findGroupEvents([...several(4), later])).toEqual([]);
  });

  it('one record of several birds counts each', () => {
    expect(findGroupEvents([...several(2), makeFind('lot', { quantity: 3 })])[0]).toMatchObject({ birds: 5 });
  });

  it('other words for a place within 100 m are the same place, in chains', () => {
    // 0.0008 degrees of latitude are about 89 m, 0.0012 about 133 m.
    const at = (id: string, latitude: number) => makeFind(id, { placeKey: id, latitude, longitude: -87.6 });
    const chain = [0, 1, 2, 3, 4].map((step) => at(`c${step}`, 41.88 + step * 0.0008));
    expect(findGroupEvents(chain)[0]?.findIds).toHaveLength(5);
    const apart = [0, 1, 2, 3, 4].map((step) => at(`c${step}`, 41.88 + step * 0.0012));
    expect(findGroupEvents(apart)).toEqual([]);
  });

  it('a find that joins two groups makes them one', () => {
    const left = [1, 2].map((n) => makeFind(`l${n}`, { placeKey: 'l', latitude: 41.88, longitude: -87.6 }));
    const right = [1, 2].map((n) =>
      makeFind(`r${n}`, { placeKey: 'r', latitude: 41.8814, longitude: -87.6 }),
    );
    const middle = makeFind('m', { placeKey: 'm', latitude: 41.8807, longitude: -87.6 });
    expect(findGroupEvents([...left, ...right])).toEqual([]);
    expect(findGroupEvents([...left, ...right, middle])[0]?.findIds).toHaveLength(5);
  });

  it('date ranges that overlap make a possible event, one event for the shared days', () => {
    const ranges = several(5, { earliestOn: '2025-05-01', latestOn: '2025-05-03' });
    expect(findGroupEvents(ranges)).toEqual([
      expect.objectContaining({ fromOn: '2025-05-01', untilOn: '2025-05-03', certainty: 'possible' }),
    ]);
    const mixed = [...several(5), makeFind('range', { latestOn: '2025-05-02' })];
    expect(findGroupEvents(mixed)[0]).toMatchObject({ birds: 6, certainty: 'certain' });
  });

  it('a find dated to a year only says nothing about a day', () => {
    const vague = several(5, { earliestOn: '2025-01-01', latestOn: '2025-12-31' });
    expect(findGroupEvents(vague)).toEqual([]);
  });
});
