import { z } from 'zod';
import { ELEMENT_IDS, type ElementId, elementOf, isDivisible, sidesOf } from '../elements';
import type { BoneEntry } from '../schema';
import { GENERAL_PROFILE, type SkeletonProfile } from '../taxa';
import { PLACES, type Place, PORTIONS, type Portion, REGIONS, type Side } from '../words';
import { makeEntry } from './entries';

export type LimbSide = 'left' | 'right';

/** The sides decided at the bench, wing and leg each for itself. */
export interface ChosenSides {
  wing: LimbSide;
  leg: LimbSide;
}

/**
 * One line of a style's usual split; a later line overrides an earlier one. `limb` follows the chosen side of the wing
 * or leg: `chosen` is the side picked for the skeleton (or, with a spread wing, for spreading), `other` its opposite.
 */
export const splitLineSchema = z.strictObject({
  regions: z.array(z.enum(REGIONS)).optional(),
  elements: z.array(z.enum(ELEMENT_IDS)).optional(),
  limb: z.enum(['chosen', 'other']).optional(),
  portion: z.enum(PORTIONS).default('whole'),
  place: z.enum(PLACES),
});
export type SplitLine = z.input<typeof splitLineSchema>;

const everything = (place: Place): SplitLine => ({ regions: [...REGIONS], place });
/** Femur and kneecap come away with the body when the leg is parted at the knee. */
const BELOW_THE_KNEE: ElementId[] = [
  'tibiotarsus',
  'fibula',
  'tarsometatarsus',
  'metatarsal-1',
  'toe-1',
  'toe-2',
  'toe-3',
  'toe-4',
];
/** The bill stays with the skin, the tail feathers keep the pygostyle. */
const STAYS_IN_ANY_SKIN: SplitLine[] = [
  { elements: ['cranium', 'mandible'], portion: 'proximal', place: 'skeleton' },
  { elements: ['cranium', 'mandible'], portion: 'distal', place: 'skin' },
  { elements: ['pygostyle'], place: 'skin' },
];

/**
 * The usual split of each preparation style. Common practice, no source, but that humeri are cut distal to the shoulder
 * and the leg just distal to the knee is read in a university museum's guide, and that femur, girdles, breastbone and most
 * vertebrae then go to the body skeleton is inferred from it. Preparators edit these as data.
 */
export const DEFAULT_SPLITS: Readonly<Record<string, readonly SplitLine[]>> = {
  'skin-with-partial-skeleton': [
    everything('skeleton'),
    ...STAYS_IN_ANY_SKIN,
    { regions: ['wing'], limb: 'other', place: 'skin' },
    { elements: BELOW_THE_KNEE, limb: 'other', place: 'skin' },
  ],
  'whole-skeleton': [everything('skeleton')],
  'spread-wing-with-skin': [
    everything('skeleton'),
    ...STAYS_IN_ANY_SKIN,
    { regions: ['wing'], limb: 'chosen', place: 'wing' },
    { regions: ['wing'], limb: 'other', place: 'skin' },
    { elements: BELOW_THE_KNEE, place: 'skin' },
  ],
  'flat-skin': [
    everything('skeleton'),
    { elements: ['pygostyle'], place: 'skin' },
    { regions: ['wing'], limb: 'other', place: 'skin' },
    { elements: BELOW_THE_KNEE, limb: 'other', place: 'skin' },
  ],
  fluid: [everything('fluid')],
  'tissue-only': [everything('discarded')],
  discard: [everything('discarded')],
};

/** A line for skins made the other way, where the bones left in the skin are cut through the shaft, not parted at the joint. */
export const CUT_THROUGH_THE_SHAFT: readonly SplitLine[] = [
  { elements: ['humerus'], limb: 'other', portion: 'proximal', place: 'skeleton' },
  { elements: ['humerus'], limb: 'other', portion: 'distal', place: 'skin' },
  { elements: ['tibiotarsus', 'fibula'], limb: 'other', portion: 'proximal', place: 'skeleton' },
  { elements: ['tibiotarsus', 'fibula'], limb: 'other', portion: 'distal', place: 'skin' },
];

/** What the bench recorded about an element before it was prepared. */
export interface RecordedDamage {
  element: ElementId;
  side: Side;
  state: 'broken' | 'missing';
}

function lineApplies(line: SplitLine, element: ElementId, side: Side, sides: ChosenSides): boolean {
  const { region } = elementOf(element);
  if (!line.elements?.includes(element) && !line.regions?.includes(region)) return false;
  if (!line.limb) return true;
  const chosen = region === 'wing' ? sides.wing : sides.leg;
  return (side === chosen) === (line.limb === 'chosen');
}

/** Where each portion of an element goes; the whole is one place, the portions two. */
function placesOf(lines: readonly SplitLine[], element: ElementId, side: Side, sides: ChosenSides) {
  let whole: Place | null = null;
  let parts: Partial<Record<Portion, Place>> = {};
  for (const line of lines) {
    if (!lineApplies(line, element, side, sides)) continue;
    const portion = line.portion ?? 'whole';
    if (portion === 'whole' || !isDivisible(element)) {
      whole = line.place;
      parts = {};
    } else {
      parts[portion] = line.place;
    }
  }
  const proximal = parts.proximal ?? whole;
  const distal = parts.distal ?? whole;
  return proximal === distal ? { whole: proximal } : { proximal, distal };
}

/** A style's lines turned into a bone book: every element the taxon has, each portion in one place. */
export function splitBook(
  lines: readonly SplitLine[],
  sides: ChosenSides,
  { profile = GENERAL_PROFILE, damage = [] }: { profile?: SkeletonProfile; damage?: RecordedDamage[] } = {},
): BoneEntry[] {
  return ELEMENT_IDS.filter((id) => profile[id].presence !== 'absent').flatMap((element) =>
    sidesOf(element).flatMap((side) => {
      const state = damage.find((one) => one.element === element && one.side === side)?.state ?? 'whole';
      if (state === 'missing') return [makeEntry(element, side, { state })];
      const places = placesOf(lines, element, side, sides);
      return (Object.entries(places) as [Portion, Place | null][]).map(([portion, place]) =>
        makeEntry(element, side, { portion, place, state }),
      );
    }),
  );
}

/** The usual split of a style by its id; an unknown style leaves everything undecided. */
export function defaultSplit(
  styleId: string,
  sides: ChosenSides,
  options: { profile?: SkeletonProfile; damage?: RecordedDamage[] } = {},
): BoneEntry[] {
  return splitBook(DEFAULT_SPLITS[styleId] ?? [], sides, options);
}
