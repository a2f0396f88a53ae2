import { describe, expect, it } from 'vitest';
import { findNamedCentre, locatePoint } from '@/lib/places/public-rules';

describe('the middle of a named place', () => {
  it.each([
    ['US', 'Ohio', 'Franklin', 'county'],
    ['United States', 'OH', 'Franklin County', 'county'],
    ['US', 'Ohio', 'No such county', 'state'],
    ['US', 'Ohio', '', 'state'],
    ['US', '', '', 'country'],
    ['CA', 'Ontario', 'Essex', 'country'],
    ['Kenya', '', '', 'country'],
  ])('%s, %s, %s: of the %s, and lies in it', (country, stateProvince, county, of) => {
    const centre = findNamedCentre({ country, stateProvince, county });
    expect(centre?.of).toBe(of);
    const found = centre === null ? null : locatePoint(centre);
    if (of === 'county') expect(found).toMatchObject({ state: 'Ohio', county: 'Franklin' });
    if (of === 'state') expect(found).toMatchObject({ state: 'Ohio' });
    if (of === 'country')
      expect(found?.country).toBe({ US: 'United States', CA: 'Canada', Kenya: 'Kenya' }[country]);
  });
  it('is unknown where nothing is named, or nothing that is known here', () => {
    expect(findNamedCentre({ country: '', stateProvince: '', county: '' })).toBeNull();
    expect(findNamedCentre({ country: 'Atlantis', stateProvince: '', county: '' })).toBeNull();
  });
  it('says no more than a hundredth of a degree', () => {
    const { latitude, longitude } = findNamedCentre({
      country: 'US',
      stateProvince: 'Ohio',
      county: 'Knox',
    }) ?? {
      latitude: Number.NaN,
      longitude: Number.NaN,
    };
    expect([latitude, longitude].map((value) => Number(value.toFixed(2)))).toEqual([latitude, longitude]);
  });
});
