import { group } from 'd3-array';
import { say, sayCode } from '@/lib/platform/words/say';
import { ELEMENT_IDS, type ElementId, elementName, isDivisible, portionName, sidesOf } from '../elements';
import type { BoneEntry } from '../schema';
import { GENERAL_PROFILE, type SkeletonProfile } from '../taxa';
import type { Portion, Side } from '../words';
import { whereabouts } from './entries';

export type FindingCode =
  | 'nowhere'
  | 'two-places'
  | 'written-twice'
  | 'overlap'
  | 'missing-but-placed'
  | 'wrong-side'
  | 'not-divisible'
  | 'not-in-taxon';

export interface BoneFinding {
  code: FindingCode;
  /** `stop` keeps the book from balancing; `remark` does not. */
  weight: 'stop' | 'remark';
  element: ElementId;
  side: Side;
  /** What is concerned, 'whole' where it is the element at large. */
  portion: Portion;
  message: string;
}

export interface Conservation {
  /** Every half of every expected element is accounted for exactly once. */
  balanced: boolean;
  findings: BoneFinding[];
}

type Half = 'proximal' | 'distal';
const HALVES: readonly Half[] = ['proximal', 'distal'];

const covers = (entry: BoneEntry, half: Half): boolean => entry.portion === 'whole' || entry.portion === half;
const isPlaced = (entry: BoneEntry): boolean => entry.place !== null || entry.state === 'missing';

/** What is wrong with the entry itself, whatever else the book holds. */
function checkEntry(entry: BoneEntry, profile: SkeletonProfile): BoneFinding[] {
  const { element, side, portion } = entry;
  // Said only where something is wrong, as in hardly any entry of a book.
  const name = () => elementName(element, side);
  const found: BoneFinding[] = [];
  const add = (code: FindingCode, weight: BoneFinding['weight'], message: string) =>
    found.push({ code, weight, element, side, portion, message });
  if (!sidesOf(element).includes(side)) {
    add(
      'wrong-side',
      'stop',
      say('The {elementName} cannot be entered as {side}.', {
        elementName: elementName(element, 'unpaired'),
        side: sayCode(side),
      }),
    );
  }
  if (portion !== 'whole' && !isDivisible(element)) {
    add(
      'not-divisible',
      'stop',
      say('The {name} goes in one piece; the book has a {portion} portion of it.', {
        name: name(),
        portion: sayCode(portion),
      }),
    );
  }
  if (entry.state === 'missing' && entry.place !== null) {
    add(
      'missing-but-placed',
      'stop',
      say('The {name} is recorded as missing and also as {place}.', {
        name: name(),
        place: sayCode(entry.place),
      }),
    );
  }
  if (profile[element].presence === 'absent' && entry.state !== 'missing') {
    const why = profile[element].notes.at(-1);
    add(
      'not-in-taxon',
      'remark',
      say('The {name} is in the book, but this bird should have none: {why}.', { name: name(), why }),
    );
  }
  return found;
}

/** The accounts of one element on one side: every half exactly once. */
function checkElement(
  element: ElementId,
  side: Side,
  entries: BoneEntry[],
  required: boolean,
): BoneFinding[] {
  // Nearly all elements of nearly all books are one of these two.
  const [only, ...more] = entries;
  if (only === undefined && !required) return [];
  if (only?.portion === 'whole' && more.length === 0 && isPlaced(only)) return [];
  const name = elementName(element, side);
  const finding = (code: FindingCode, portion: Portion, message: string): BoneFinding => ({
    code,
    weight: 'stop',
    element,
    side,
    portion,
    message,
  });
  const states = HALVES.map((half) => {
    const covering = entries.filter((entry) => covers(entry, half));
    return { half, covering, nowhere: covering.length === 0 ? required : !covering.some(isPlaced) };
  });
  const found: BoneFinding[] = [];
  for (const { half, covering } of states) {
    if (covering.length < 2) continue;
    found.push(describeDouble(name, half, covering, finding, isDivisible(element)));
  }
  const nowhere = states.filter((state) => state.nowhere);
  if (nowhere.length === HALVES.length) {
    found.push(finding('nowhere', 'whole', say('The {name} is nowhere.', { name })));
  } else {
    for (const { half } of nowhere) {
      found.push(
        finding(
          'nowhere',
          half,
          say('The {name}, {portionName}, is nowhere.', { name, portionName: portionName(element, half) }),
        ),
      );
    }
  }
  return mergeHalves(found);
}

/** Says how a half comes to stand in the book more than once. */
function describeDouble(
  name: string,
  half: Half,
  covering: BoneEntry[],
  finding: (code: FindingCode, portion: Portion, message: string) => BoneFinding,
  divisible: boolean,
): BoneFinding {
  const portions = new Set(covering.map((entry) => entry.portion));
  const portion: Portion = portions.has('whole') || !divisible ? 'whole' : half;
  if (portions.size > 1) {
    return finding('overlap', 'whole', say('The {name} is in the book whole and in part at once.', { name }));
  }
  const places = [...new Set(covering.map(whereabouts))];
  if (places.length === 1) {
    return finding(
      'written-twice',
      portion,
      say('The {name} is written {length} times ({places}).', {
        name,
        length: covering.length,
        places: places[0],
      }),
    );
  }
  return finding(
    'two-places',
    portion,
    say('The {name} is in {length} places: {places}.', {
      name,
      length: places.length,
      places: places.join(', '),
    }),
  );
}

/** A whole element that is double shows once, not once for each half. */
function mergeHalves(findings: BoneFinding[]): BoneFinding[] {
  const seen = new Set<string>();
  return findings.filter(({ code, portion }) => {
    const key = `${code} ${portion}`;
    if (seen.has(key)) return false;
    seen.add(key);
    return true;
  });
}

/**
 * Whether every element of the individual, by side and portion, is in exactly one material, or recorded as missing,
 * discarded, lost or consumed. Nothing twice, nothing nowhere. Elements that the taxon lacks are not asked for, variable
 * ones only if the book names them.
 */
export function checkConservation(
  entries: readonly BoneEntry[],
  profile: SkeletonProfile = GENERAL_PROFILE,
): Conservation {
  const findings = entries.flatMap((entry) => checkEntry(entry, profile));
  const byElement = group(entries, ({ element }) => element);
  for (const element of ELEMENT_IDS) {
    for (const side of sidesOf(element)) {
      const own = (byElement.get(element) ?? []).filter((entry) => entry.side === side);
      findings.push(...checkElement(element, side, own, profile[element].presence === 'expected'));
    }
  }
  return { balanced: findings.every(({ weight }) => weight !== 'stop'), findings };
}

/** Whether the bone book stands in the way of approval: it must balance, or somebody must have said why not. */
export const isAccountedFor = (conservation: Conservation, explanation: string | null): boolean =>
  conservation.balanced || (explanation ?? '').trim().length > 0;
