import { say } from '@/lib/platform/words/say';
import { type CountRange, ELEMENT_IDS, type ElementId, elementName, elementOf, sidesOf } from '../elements';
import type { BoneEntry, BoxCountLine } from '../schema';
import { GENERAL_PROFILE, type SkeletonProfile } from '../taxa';
import type { Side } from '../words';

export type BoxVerdict = 'agrees' | 'short' | 'over' | 'unexpected' | 'not-counted';

export interface BoxLine {
  element: ElementId;
  side: Side;
  /** Pieces that the bone book leads one to expect. */
  expected: CountRange;
  counted: number | null;
  verdict: BoxVerdict;
  /** What somebody must answer; null where book and box agree. */
  question: string | null;
}

/** Splinters are not counted against anybody. */
const MANY = 99;

/** Pieces to expect for the entries of one element in the box; a broken bone may come in more of them. */
function expectPieces(entries: readonly BoneEntry[], natural: CountRange): CountRange {
  const here = entries.filter((entry) => entry.state !== 'missing' && entry.place === 'skeleton');
  if (here.length === 0) return { min: 0, max: 0 };
  const broken = here.some((entry) => entry.state === 'broken');
  const portions = new Set(here.map((entry) => entry.portion));
  const entire = portions.has('whole') || (portions.has('proximal') && portions.has('distal'));
  const single = natural.max === 1;
  const cut = single && !portions.has('whole');
  const min = entire && !broken ? natural.min : 1;
  const max = single ? here.length : natural.max;
  return { min: cut ? here.length : min, max: broken ? MANY : max };
}

const span = ({ min, max }: CountRange): string => {
  if (max >= MANY) return say('{min} or more', { min });
  return min === max ? `${min}` : `${min}–${max}`;
};

function judge(
  name: string,
  expected: CountRange,
  counted: number | null,
): Pick<BoxLine, 'verdict' | 'question'> {
  if (counted === null) {
    return {
      verdict: 'not-counted',
      question: say('The {name} was not counted: the book has {span} here.', { name, span: span(expected) }),
    };
  }
  if (counted > 0 && expected.max === 0) {
    return {
      verdict: 'unexpected',
      question: say('{counted} of the {name} in the box, none in the book. Whose is it?', { counted, name }),
    };
  }
  if (counted < expected.min) {
    return {
      verdict: 'short',
      question: say('The {name}: {counted} in the box, {span} by the book. Where is it?', {
        name,
        counted,
        span: span(expected),
      }),
    };
  }
  if (counted > expected.max) {
    return {
      verdict: 'over',
      question: say('The {name}: {counted} in the box, {span} by the book. Count again.', {
        name,
        counted,
        span: span(expected),
      }),
    };
  }
  return { verdict: 'agrees', question: null };
}

/**
 * Holds the count made at boxing against the bone book. A difference opens a question and changes nothing: the book
 * is corrected by whoever answers it. Lines with nothing expected and nothing counted are left out.
 */
export function compareBoxCount(
  entries: readonly BoneEntry[],
  lines: readonly BoxCountLine[],
  profile: SkeletonProfile = GENERAL_PROFILE,
): BoxLine[] {
  return ELEMENT_IDS.flatMap((element) =>
    sidesOf(element).flatMap((side) => {
      const own = entries.filter((entry) => entry.element === element && entry.side === side);
      const expected = expectPieces(own, naturalCount(element, profile));
      const counts = lines.filter((line) => line.element === element && line.side === side);
      const counted = counts.length === 0 ? null : counts.reduce((sum, line) => sum + line.count, 0);
      if (expected.max === 0 && !counted) return [];
      return [{ element, side, expected, counted, ...judge(elementName(element, side), expected, counted) }];
    }),
  );
}

/** An element entered although the taxon should have none is expected as in birds at large. */
const naturalCount = (element: ElementId, profile: SkeletonProfile): CountRange =>
  profile[element].presence === 'absent' ? elementOf(element).count : profile[element].count;

/** The questions a count leaves open. */
export const openQuestions = (lines: readonly BoxLine[]): string[] =>
  lines.flatMap(({ question }) => (question === null ? [] : [question]));
