import { describe, expect, it } from 'vitest';
import {
  ELEMENT_IDS,
  ELEMENTS,
  elementName,
  isDivisible,
  portionName,
  sidesOf,
} from '@/lib/skeletons/elements';
import { GENERAL_PROFILE, profileFor, TAXON_EXCEPTIONS } from '@/lib/skeletons/taxa';

describe('the elements', () => {
  it('have one name and one term each', () => {
    const names = ELEMENT_IDS.map((id) => ELEMENTS[id].name);
    const terms = ELEMENT_IDS.map((id) => ELEMENTS[id].term);
    expect(new Set(names).size).toBe(names.length);
    expect(new Set(terms).size).toBe(terms.length);
  });

  it.each(ELEMENT_IDS)('%s has a range of at least nothing and not upside down', (id) => {
    const { min, max } = ELEMENTS[id].count;
    expect(min).toBeGreaterThanOrEqual(0);
    expect(max).toBeGreaterThanOrEqual(Math.max(1, min));
  });

  it('are called by side and portion', () => {
    expect(elementName('humerus', 'left')).toBe('left humerus');
    expect(elementName('furcula', 'unpaired')).toBe('wishbone');
    expect(portionName('cranium', 'distal')).toBe('front part (bill)');
    expect(portionName('ulna', 'proximal')).toBe('proximal part');
    expect(sidesOf('ulna')).toEqual(['left', 'right']);
    expect(sidesOf('sternum')).toEqual(['unpaired']);
    expect([isDivisible('humerus'), isDivisible('quadrate')]).toEqual([true, false]);
  });
});

describe('the profile of a taxon', () => {
  it('is the bird at large where nothing is known', () => {
    expect(profileFor({ family: 'Turdidae' })).toEqual(GENERAL_PROFILE);
    expect(GENERAL_PROFILE.patella.presence).toBe('variable');
  });

  // From memory: toes of these birds.
  it.each([
    [{ family: 'Struthionidae' }, 2],
    [{ family: 'Alcidae' }, 3],
    [{ family: 'Scolopacidae', species: 'Calidris alba' }, 3],
    [{ family: 'Scolopacidae', species: 'Calidris alpina' }, 4],
    [{ family: 'Turdidae' }, 4],
  ])('%o has %i toes', (taxon, toes) => {
    const profile = profileFor(taxon);
    const ids = ['toe-1', 'toe-2', 'toe-3', 'toe-4'] as const;
    expect(ids.filter((id) => profile[id].presence !== 'absent')).toHaveLength(toes);
  });

  it('keeps a trace as variable and says why', () => {
    const profile = profileFor({ family: 'Charadriidae' });
    expect(profile['toe-1']).toMatchObject({ presence: 'variable', count: { min: 0, max: 2 } });
    expect(profile['toe-1'].notes[0]).toMatch(/hind toe/);
  });

  it('never calls an element absent and variable in one exception', () => {
    for (const { absent = [], variable = [] } of TAXON_EXCEPTIONS) {
      expect(absent.filter((id) => variable.includes(id))).toEqual([]);
    }
  });
});
