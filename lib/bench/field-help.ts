import type { FieldId } from '@/lib/bench/fields';
import { phrases } from '@/lib/platform/words/say';

export interface FieldHelp {
  what: string;
  how: string;
  source: string;
}

const BANDING = 'Bird-banding guides; Baldwin, Oberholser & Worley 1931 (from memory)';
const EURING = 'EURING Exchange Code 2020';
const AVONET = 'Tobias et al. 2022, AVONET';
const CATALOGUES = 'Winker 2000; Foster & Cannell 1990 (from memory)';
const LABEL_MINIMUM = 'Van Tyne 1952; Winker 2000 (from memory)';
const COMMON = 'Common practice, no source';

const MOULT_SCORES =
  'One digit a feather: 0 old, 1 missing or pin, 2 up to a third grown, 3 a third to two thirds, 4 more with sheath, 5 new.';
const TESTIS: FieldHelp = phrases({
  what: 'Greatest length and width of the testis.',
  how: 'In place, from the left flank by the hindmost ribs against the back, before anything is removed. Length, then width, to 0.5 mm.',
  source: CATALOGUES,
});
const OVARY: FieldHelp = phrases({
  what: 'Greatest length and width of the ovary.',
  how: 'In place, from the left flank by the hindmost ribs against the back, before anything is removed. Length, then width, to 0.5 mm. A right ovary is recorded as seen; it gets a warning, never a refusal.',
  source: `${CATALOGUES}; Kinsky 1971 for paired ovaries`,
});
const SOFT_PART: FieldHelp = phrases({
  what: 'Colour of this soft part.',
  how: 'In words, before it fades: within hours of thawing. Name the colour standard if one was used.',
  source: LABEL_MINIMUM,
});

/**
 * What each field is, how it is measured and who says so. Apart from the fields themselves: a page that shows or takes
 * values does without.
 */
export const FIELD_HELP: Readonly<Record<FieldId, FieldHelp>> = phrases({
  identifiedAs: {
    what: 'The name the preparator gives the bird with it in hand.',
    how: 'It is a proposal: the identification of the bird changes only when it is accepted there.',
    source: LABEL_MINIMUM,
  },
  massG: {
    what: 'Mass of the bird as it lies on the bench.',
    how: 'Weigh before the first cut, plumage dry, ice brushed off. To 0.1 g if the bird is small. Say "incomplete" when parts are missing.',
    source: 'Common practice, no source; precision from memory',
  },
  wingMm: {
    what: 'From the bend of the wing to the tip of the longest primary.',
    how: 'Folded wing on a stopped rule. Chord: natural curve kept. Flattened: pressed on the rule. Straightened: pressed and the primaries drawn straight. To 0.5 or 1 mm; say which method.',
    source: BANDING,
  },
  tailMm: {
    what: 'From the base of the central pair, where they leave the skin, to the tip of the longest tail feather.',
    how: 'Rule or dividers between the central pair. To 0.5 or 1 mm.',
    source: BANDING,
  },
  tarsusMm: {
    what: 'Length of the lower leg from the notch of the hock to the last undivided scute before the toes.',
    how: 'Callipers, leg and foot bent at right angles. Minimum, maximum or with toe: say which. To 0.1 mm.',
    source: `${EURING} (Svensson 1992 for the minimum)`,
  },
  culmenExposedMm: {
    what: 'From the edge of the feathering at the forehead to the tip of the bill.',
    how: 'Callipers, along the ridge. To 0.1 mm.',
    source: BANDING,
  },
  billFromNostrilMm: {
    what: 'From the front edge of the nostril opening to the tip of the bill.',
    how: 'Callipers. To 0.1 mm.',
    source: `${BANDING}; ${EURING}`,
  },
  billToSkullMm: {
    what: 'From the angle where the bill meets the skull, under the feathers, to the tip.',
    how: 'Callipers, pressed gently into the angle. To 0.1 mm.',
    source: EURING,
  },
  billFromCereMm: {
    what: 'From the front edge of the cere to the tip of the bill: hawks, owls, parrots, pigeons.',
    how: 'Callipers, straight line. To 0.1 mm.',
    source: EURING,
  },
  billDepthMm: {
    what: 'Height of the closed bill at the front edge of the nostrils.',
    how: 'Callipers, upright to the cutting edges. To 0.1 mm.',
    source: AVONET,
  },
  billWidthMm: {
    what: 'Breadth of the bill at the front edge of the nostrils.',
    how: 'Callipers from above. To 0.1 mm.',
    source: AVONET,
  },
  headAndBillMm: {
    what: 'From the back of the skull to the tip of the bill.',
    how: 'Before skinning. To 0.1 mm.',
    source: COMMON,
  },
  totalLengthMm: {
    what: 'From the tip of the bill to the tip of the tail.',
    how: 'Bird on its back, neck not stretched, before skinning.',
    source: BANDING,
  },
  wingspanMm: {
    what: 'From wing tip to wing tip.',
    how: 'Bird on its back, wings drawn out straight, before skinning.',
    source: COMMON,
  },
  kippsDistanceMm: {
    what: 'On the folded wing, from the tip of the first secondary to the tip of the longest primary.',
    how: 'Rule under the folded wing. With the wing it gives the hand-wing index; with the first secondary it must add up to the wing.',
    source: AVONET,
  },
  firstSecondaryMm: {
    what: 'From the bend of the wing to the tip of the first (outermost) secondary.',
    how: 'Folded wing on a stopped rule, the same method as the wing.',
    source: AVONET,
  },
  middleToeMm: {
    what: 'From the base of the middle toe to the base of its claw.',
    how: 'Callipers along the top of the straightened toe. To 0.1 mm.',
    source: COMMON,
  },
  hindClawMm: {
    what: 'Straight line from the skin at the base of the hind claw to its tip.',
    how: 'Callipers. To 0.1 mm.',
    source: COMMON,
  },
  betweenWingsMm: {
    what: 'Distance between the two wings on the body, taken before they are cut free.',
    how: 'Callipers across the back. The wrists of the skin are tied at 1⅔ of it.',
    source: COMMON,
  },
  sex: {
    what: 'The sex the preparator settles on. The evidence beside it is kept separately.',
    how: '"Undetermined" is a good answer when nothing was found.',
    source: 'Darwin Core term sex',
  },
  organsSeen: {
    what: 'Which sex organs were seen, and on which side, measured or not.',
    how: 'Say "left ovary seen", "testes seen", "gonads not found" or "gonads destroyed".',
    source: CATALOGUES,
  },
  leftTestis: TESTIS,
  rightTestis: TESTIS,
  testis: TESTIS,
  testisColour: {
    what: 'Colour of the testes.',
    how: 'In words, in fresh state: cream, yellow, grey, black.',
    source: COMMON,
  },
  leftOvary: OVARY,
  rightOvary: OVARY,
  ovary: OVARY,
  ovaryState: {
    what: 'How the surface of the ovary looks.',
    how: 'Smooth in young birds; granular or with follicles later; ruptured follicles after laying.',
    source: CATALOGUES,
  },
  largestFollicleMm: {
    what: 'Diameter of the largest follicle.',
    how: 'Callipers beside it, to 0.1 mm if small.',
    source: CATALOGUES,
  },
  oviductState: {
    what: 'State of the oviduct.',
    how: 'A convoluted or enlarged oviduct has laid or is about to; a straight one has not laid lately.',
    source: CATALOGUES,
  },
  oviductWidthMm: {
    what: 'Greatest width of the oviduct.',
    how: 'In place, not stretched.',
    source: CATALOGUES,
  },
  plumageSex: {
    what: 'What the plumage alone says of the sex.',
    how: 'Kept apart from the gonads: the two can disagree, and then both are worth knowing.',
    source: COMMON,
  },
  molecularSex: {
    what: 'Result of a DNA test, when one was made.',
    how: 'Say who tested in the remarks.',
    source: COMMON,
  },
  age: {
    what: 'The age the preparator settles on. The evidence beside it is kept separately.',
    how: '"Undetermined" is a good answer.',
    source: COMMON,
  },
  skullOssificationPct: {
    what: 'How much of the skull roof is double and speckled, in hundredths.',
    how: 'Skin peeled back, under a lens. Some passerines finish within two months, others keep windows as adults: it proves less than it seems to.',
    source: 'Bird-ringing literature citing Svensson 1992',
  },
  skullRemarks: {
    what: 'Windows, their place, or damage that hides the ossification.',
    how: '"Skull windows at the back" or "skull partly ossified" is kept here, because it is no figure.',
    source: COMMON,
  },
  bursa: {
    what: 'Length and width of the bursa on the back of the cloaca, or that there is none.',
    how: 'Say "bursa 5 by 3", "no bursa" or "bursa not looked for". It peaks at 4 to 6 months and then shrinks away.',
    source: 'McNeil & Burton, citing Davis 1947',
  },
  plumageAge: {
    what: 'What the plumage alone says of the age.',
    how: 'Definitive plumage is worn from the first autumn in some species and after years in others.',
    source: COMMON,
  },
  fat: {
    what: 'Fat under the skin, by a named scale.',
    how: 'Several scales exist and their figures differ: say "fat two on Kaiser", set the lab\'s scale once, or use words ("fat moderate").',
    source: 'Helms & Drury 1960; Kaiser 1993; Busse; MAPS (from memory)',
  },
  pectoralMuscle: {
    what: 'Shape of the breast muscle beside the keel.',
    how: '0 keel sharp, muscle sunken; 1 keel easily felt; 2 keel just felt; 3 keel hard to feel, muscle full.',
    source: EURING,
  },
  broodPatch: {
    what: 'Bare, swollen skin of the belly in brooding birds.',
    how: 'Look before skinning. Say the scale, or set the lab\'s scale once. "No brood patch" is 0.',
    source: EURING,
  },
  moult: {
    what: 'Growing feathers anywhere, at a glance.',
    how: 'From inside the skin growing feathers show as dark pins. "No moult" means that none were found.',
    source: COMMON,
  },
  bodyMoult: {
    what: 'How much of the body plumage is growing.',
    how: 'Seen from inside the skin.',
    source: COMMON,
  },
  tailMoult: {
    what: 'How much of the tail is growing.',
    how: 'Check the bases of the tail feathers.',
    source: COMMON,
  },
  primaryMoult: {
    what: 'State of each primary, innermost first; the sum is computed.',
    how: MOULT_SCORES,
    source: `${EURING}; Ginn & Melville 1983 for the sum (from memory)`,
  },
  secondaryMoult: { what: 'State of each secondary, outermost first.', how: MOULT_SCORES, source: EURING },
  tailFeatherMoult: {
    what: 'State of each tail feather, central pair first.',
    how: MOULT_SCORES,
    source: EURING,
  },
  irisColour: SOFT_PART,
  upperBillColour: SOFT_PART,
  lowerBillColour: SOFT_PART,
  billColour: SOFT_PART,
  gapeColour: SOFT_PART,
  cereColour: SOFT_PART,
  orbitalSkinColour: SOFT_PART,
  facialSkinColour: SOFT_PART,
  legColour: SOFT_PART,
  footColour: SOFT_PART,
  clawColour: SOFT_PART,
  stomachContents: {
    what: 'What the stomach holds, item by item, with counts where they can be told.',
    how: 'Open it over a dish. Say "stomach two beetles and grit" or "stomach empty". Keep the contents with the other materials.',
    source: 'Winker 2000 (abstract)',
  },
  cropContents: { what: 'What the crop holds.', how: 'As for the stomach.', source: LABEL_MINIMUM },
  parasites: {
    what: 'Parasites seen outside and inside, and where they were kept.',
    how: 'Say "parasites feather lice and one louse fly", or "no parasites" when none were found.',
    source: COMMON,
  },
  tissueVials: {
    what: 'Which tissues went into which vial of this bird (vial 1, vial 2 …).',
    how: 'At once, while still cold. Two duplicate vials; share larger organs between them. Say "liver and heart in vial two".',
    source: 'Winker 2000 for two duplicates; common practice for the rest',
  },
  carcassCondition: {
    what: 'State of the carcass when it came to the bench.',
    how: 'It decides what can still be made of the bird and how far the mass can be trusted.',
    source: COMMON,
  },
  trauma: {
    what: 'Injuries found, item by item: fractures, bleeding, wounds.',
    how: 'Say the side and the bone. "No trauma" when none were found.',
    source: LABEL_MINIMUM,
  },
  brokenBones: {
    what: 'Bones that are broken, each with its side.',
    how: 'Say "broken left humerus and right tibiotarsus". The bone book proposes the side to keep whole from it.',
    source: COMMON,
  },
  causeOfDeathFound: {
    what: 'What the inside of the bird says of its death.',
    how: 'It is held against what the finder reported; the two may differ.',
    source: LABEL_MINIMUM,
  },
  remarks: {
    what: 'Anything else that cannot be seen again once the bird is a skin.',
    how: 'Everything up to a semicolon or the end of the line is the remark.',
    source: COMMON,
  },
});
