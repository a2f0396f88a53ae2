import { accept, type Outcome, refuse } from '@/lib/places/outcome';
import { say } from '@/lib/platform/words/say';

/** Metres in a unit of length as written; international foot, yard and mile, fathom of six feet. */
const METRES_PER_UNIT: Record<string, number> = {
  m: 1,
  meter: 1,
  meters: 1,
  metre: 1,
  metres: 1,
  mts: 1,
  mtr: 1,
  msnm: 1,
  masl: 1,
  km: 1000,
  kms: 1000,
  kilometer: 1000,
  kilometers: 1000,
  kilometre: 1000,
  kilometres: 1000,
  ft: 0.3048,
  foot: 0.3048,
  feet: 0.3048,
  "'": 0.3048,
  yd: 0.9144,
  yds: 0.9144,
  yard: 0.9144,
  yards: 0.9144,
  mi: 1609.344,
  mile: 1609.344,
  miles: 1609.344,
  nmi: 1852,
  ftm: 1.8288,
  fathom: 1.8288,
  fathoms: 1.8288,
  fm: 1.8288,
};

/** Metres in one of a written unit ("ft", "fathoms"); null for a unit it does not know. */
export function findMetresPerUnit(unit: string): number | null {
  return METRES_PER_UNIT[unit.toLowerCase().replace(/\.$/, '')] ?? null;
}

/** Rounds away what binary fractions add, without claiming more than a tenth of a millimetre. */
function tidyMetres(metres: number): number {
  return Math.round(metres * 1e4) / 1e4;
}

export interface MetreRange {
  minimumM: number;
  maximumM: number;
  unit: string;
  verbatim: string;
}

const NUMBER = '([+-]?\\d+(?:[.,]\\d+)?)';
const UNIT = "(\\p{L}+\\.?|')";
const RANGE = new RegExp(`^${NUMBER} ?${UNIT}? ?(?:-|–|to|bis|a) ?${NUMBER} ?${UNIT}$`, 'iu');
const SINGLE = new RegExp(`^(?:ca\\.? |about |elev\\.? |alt\\.? |depth )?${NUMBER} ?${UNIT}$`, 'iu');
const END = (word: string) => `${word}[a-z]*\\.? ?[a-z]*\\.? ?[=:]? ?${NUMBER} ?${UNIT}`;
const BOTH = new RegExp(`^${END('min')}[,;]? ?${END('max')}$`, 'iu');
const ONE_END = /^(min|max)/i;

/**
 * An elevation or depth as written ("1500 - 2000 ft", "10-15 ftm") in metres. Refused without a unit, and where
 * only the smallest or only the largest value is said.
 */
export function parseMetreRange(verbatim: string): Outcome<MetreRange> {
  const text = verbatim.replace(/\s+/g, ' ').trim();
  if (text === '') return refuse('empty', say('Nothing was given.'));
  const range = RANGE.exec(text) ?? BOTH.exec(text);
  if (range) {
    const [, low = '', lowUnit, high = '', highUnit = ''] = range;
    return readRange(verbatim, [low, lowUnit ?? highUnit], [high, highUnit]);
  }
  const single = SINGLE.exec(text);
  if (single) {
    const value: [string, string] = [single[1] ?? '', single[2] ?? ''];
    return readRange(verbatim, value, value);
  }
  if (ONE_END.test(text)) return refuse('incomplete', say('Only one end of the range is given.'));
  if (/^[-+\d., to–]+$/.test(text))
    return refuse('ambiguous', say('A number without a unit: say metres or feet.'));
  return refuse('unreadable', say('This is not a number with a unit of length.'));
}

function readRange(verbatim: string, low: [string, string], high: [string, string]): Outcome<MetreRange> {
  const [lowM, highM] = [low, high].map(([number, unit]) => {
    const metres = findMetresPerUnit(unit);
    return metres === null ? null : tidyMetres(Number(number.replace(',', '.')) * metres);
  });
  if (lowM == null || highM == null)
    return refuse('unreadable', say('"{high}" is no unit of length known here.', { high: high[1] }));
  if (lowM > highM) return refuse('unreadable', say('The first value is larger than the second.'));
  return accept({ minimumM: lowM, maximumM: highM, unit: high[1], verbatim });
}
