import type { Point } from '@/lib/places/geodesy';
import { isInside, loadOutlines, measureDistanceToBorder, type Outline } from '@/lib/places/outlines';
import { STATE_ABBREVIATIONS } from '@/lib/places/us-states';
import { say } from '@/lib/platform/words/say';

/** The outlines are drawn for maps of 1:10 million, so a border may be off by a kilometre or two. */
export const OUTLINE_TOLERANCE_M = 2000;

export interface LocatedPlace {
  /** ISO 3166-1 alpha-2; empty for a territory without one. */
  countryCode: string;
  country: string;
  state: string | null;
  county: string | null;
  countyFips: string | null;
}

/** The country and, in the United States, the state and county a point lies in; null at sea or on a large lake. */
export function locatePoint(point: Point): LocatedPlace | null {
  const { counties, countries, states } = loadOutlines();
  const county = counties.find((outline) => isInside(point, outline));
  if (county) {
    const state = states.find((outline) => outline.id === county.id.slice(0, 2));
    const place = {
      country: 'United States',
      state: state?.name ?? null,
      county: county.name,
      countyFips: county.id,
    };
    return { countryCode: 'US', ...place };
  }
  const country = countries.find((outline) => isInside(point, outline));
  return country
    ? { countryCode: country.id, country: country.name, state: null, county: null, countyFips: null }
    : null;
}

export interface NamedPlace {
  country?: string | null;
  countryCode?: string | null;
  stateProvince?: string | null;
  county?: string | null;
}

export interface PlaceAgreement {
  /** `near`: outside the named place, but no farther than the uncertainty and the coarse outline explain. */
  verdict: 'agrees' | 'near' | 'other-place' | 'in-the-sea' | 'unknown-name' | 'nothing-named';
  message: string;
  found: LocatedPlace | null;
  distanceM: number | null;
}

function plainName(name: string): string {
  return name
    .normalize('NFD')
    .replace(/\p{M}/gu, '')
    .toLowerCase()
    .replace(
      /\b(county|co|parish|borough|census area|municipio|city and|municipality|planning region)\b\.?/g,
      ' ',
    )
    .replace(/\b(saint|ste|st)\b\.?/g, 'st')
    .replace(/[^a-z0-9]/g, '');
}

const COUNTRY_NAMES = new Intl.DisplayNames('en', { type: 'region' });

function findCountry(named: NamedPlace): Outline[] {
  const { countries } = loadOutlines();
  const code = named.countryCode?.trim().toUpperCase();
  if (code) return countries.filter((outline) => outline.id === code);
  const name = named.country?.trim() ?? '';
  if (/^(u\.?s\.?a?\.?|united states)$/i.test(name))
    return countries.filter((outline) => outline.id === 'US');
  const plain = plainName(name);
  const same = (outline: Outline) =>
    plainName(outline.name) === plain ||
    (outline.id !== '' && plainName(COUNTRY_NAMES.of(outline.id) ?? '') === plain);
  return countries.filter(same);
}

function findState(name: string): Outline | undefined {
  const [plain, upper] = [plainName(name), name.trim().replaceAll('.', '').toUpperCase()];
  return loadOutlines().states.find(
    (outline) => plainName(outline.name) === plain || STATE_ABBREVIATIONS[outline.id] === upper,
  );
}

/** The outlines of the finest place that was named, and how to call it; null for a name that is not known. */
export function findNamed(named: NamedPlace): { outlines: Outline[]; label: string } | null {
  const state = named.stateProvince?.trim() ? findState(named.stateProvince) : undefined;
  if (named.county?.trim() && state) {
    const plain = plainName(named.county);
    const ofState = loadOutlines().counties.filter((outline) => outline.id.startsWith(state.id));
    const outlines = ofState.filter((outline) => plainName(outline.name) === plain);
    return outlines[0] ? { outlines, label: `${outlines[0].name}, ${state.name}` } : null;
  }
  if (named.stateProvince?.trim()) return state ? { outlines: [state], label: state.name } : null;
  const outlines = findCountry(named);
  return outlines[0] ? { outlines, label: outlines[0].name } : null;
}

function writeWhere(found: LocatedPlace | null): string {
  if (!found) return say('in the sea or a large lake');
  if (found.countryCode === 'US' && !found.state)
    return say('on a lake or at the shore of the United States');
  return say('in {filter}', {
    filter: [found.county, found.state, found.state ? null : found.country].filter(Boolean).join(', '),
  });
}

/**
 * Whether coordinates lie in the county, state or country that was written beside them. US states and counties
 * and the world's countries are known; provinces elsewhere are not, and are said to be unknown.
 */
export function checkPlaceAgreement(
  point: Point,
  named: NamedPlace,
  uncertaintyM: number | null = null,
): PlaceAgreement {
  const found = locatePoint(point);
  const where = writeWhere(found);
  if (![named.country, named.countryCode, named.stateProvince, named.county].some((name) => name?.trim())) {
    return {
      verdict: 'nothing-named',
      message: say('The coordinates lie {where}.', { where }),
      found,
      distanceM: null,
    };
  }
  const wanted = findNamed(named);
  if (!wanted) {
    const names = [named.county, named.stateProvince, named.country ?? named.countryCode]
      .filter(Boolean)
      .join(', ');
    const message = say(
      'No outline of "{names}" is known here, so it was not compared. The coordinates lie {where}.',
      { names, where },
    );
    return { verdict: 'unknown-name', message, found, distanceM: null };
  }
  if (wanted.outlines.some((outline) => isInside(point, outline))) {
    return {
      verdict: 'agrees',
      message: say('The coordinates lie in {label}.', { label: wanted.label }),
      found,
      distanceM: 0,
    };
  }
  const distanceM = Math.min(...wanted.outlines.map((outline) => measureDistanceToBorder(point, outline)));
  const km = (distanceM / 1000).toFixed(distanceM < 10_000 ? 1 : 0);
  if (distanceM <= OUTLINE_TOLERANCE_M + (uncertaintyM ?? 0)) {
    const message = say(
      'The coordinates lie {km} km outside {label}, within what uncertainty and the coarse outline explain.',
      { km, label: wanted.label },
    );
    return { verdict: 'near', message, found, distanceM };
  }
  const message = say('The coordinates lie {where}, {km} km from {label}. Check sign, order and digits.', {
    where,
    km,
    label: wanted.label,
  });
  const onWater = !found || (found.countryCode === 'US' && !found.state);
  return { verdict: onWater ? 'in-the-sea' : 'other-place', message, found, distanceM };
}

/** Sign changes and swaps of the coordinates that would fall into the named place; offered, never made. */
export function suggestTranspositions(point: Point, named: NamedPlace): Point[] {
  const { latitude, longitude } = point;
  const candidates = [
    { latitude: -latitude, longitude },
    { latitude, longitude: -longitude },
    { latitude: -latitude, longitude: -longitude },
    { latitude: longitude, longitude: latitude },
    { latitude: -longitude, longitude: latitude },
    { latitude: longitude, longitude: -latitude },
    { latitude: -longitude, longitude: -latitude },
  ];
  return candidates.filter(
    (candidate) =>
      Math.abs(candidate.latitude) <= 90 && checkPlaceAgreement(candidate, named).verdict === 'agrees',
  );
}
