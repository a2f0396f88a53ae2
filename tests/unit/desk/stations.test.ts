import { describe, expect, test } from 'vitest';
import { CAUTIONS } from '@/lib/bench/cautions';
import { PLACES } from '@/lib/desk/places';
import { STAGE_IDS } from '@/lib/desk/stages';
import { STATIONS } from '@/lib/desk/stations';

describe('the stations of the tour', () => {
  test('every page and caution that is named exists', () => {
    const places = new Set(PLACES.map(({ id }) => id));
    const cautions = new Set<string>(CAUTIONS.map(({ id }) => id));
    for (const station of STATIONS) {
      expect(
        station.places.filter((id) => !places.has(id)),
        station.id,
      ).toEqual([]);
      expect(
        station.cautions.filter((id) => !cautions.has(id)),
        station.id,
      ).toEqual([]);
    }
  });

  test('no stage of a bird’s life is passed by', () => {
    const told = new Set(STATIONS.flatMap(({ places }) => places));
    expect(STAGE_IDS.filter((id) => !told.has(id))).toEqual([]);
  });

  test('every caution of the bench but the one of fixed specimens is told where it belongs', () => {
    const told = new Set<string>(STATIONS.flatMap(({ cautions }) => cautions));
    expect(CAUTIONS.map(({ id }) => id).filter((id) => !told.has(id))).toEqual(['formaldehyde']);
  });
});
