import { geoCentroid } from 'd3-geo';
import { findNamed, type NamedPlace } from '@/lib/places/counties';
import type { Point } from '@/lib/places/geodesy';

/** The middle of a named place, to the hundredth of a degree, and how fine the place is. */
export type NamedCentre = Point & { of: 'county' | 'state' | 'country' };

const known = new Map<string, NamedCentre | null>();
const MOST_KNOWN = 10_000;

/**
 * The middle of the finest of these names that has an outline here: of the county, else of the state, else of the
 * country. `country` may be a name or two letters. Null where none is known.
 */
export function findNamedCentre(place: {
  country: string;
  stateProvince: string;
  county: string;
}): NamedCentre | null {
  const key = [place.country, place.stateProvince, place.county].join('\u0000');
  const before = known.get(key);
  if (before !== undefined) return before;
  const centre = computeCentre(place);
  if (known.size >= MOST_KNOWN) known.clear();
  known.set(key, centre);
  return centre;
}

function computeCentre({ country, stateProvince, county }: Parameters<typeof findNamedCentre>[0]) {
  const named: NamedPlace = /^[A-Za-z]{2}$/.test(country.trim()) ? { countryCode: country } : { country };
  const isUs = findNamed(named)?.outlines.some(({ id }) => id === 'US') ?? false;
  const tries: [NamedCentre['of'], NamedPlace | null][] = [
    ['county', isUs && county.trim() && stateProvince.trim() ? { stateProvince, county } : null],
    ['state', isUs && stateProvince.trim() ? { stateProvince } : null],
    ['country', country.trim() ? named : null],
  ];
  for (const [of, names] of tries) {
    const outline = names === null ? undefined : findNamed(names)?.outlines[0];
    if (outline === undefined) continue;
    const [longitude, latitude] = geoCentroid(outline.shape);
    return { of, latitude: toHundredth(latitude), longitude: toHundredth(longitude) };
  }
  return null;
}

const toHundredth = (degrees: number): number => Math.round(degrees * 100) / 100;
