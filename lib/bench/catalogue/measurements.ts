import { choice, numberField } from '@/lib/bench/catalogue/types';
import { phrases } from '@/lib/platform/words/say';

const BANDING = 'Bird-banding guides; Baldwin, Oberholser & Worley 1931 (from memory)';
const EURING = 'EURING Exchange Code 2020';
const AVONET = 'Tobias et al. 2022, AVONET';

/** Mass and outer measurements, in the order in which they are taken. */
export const measurementFields = phrases({
  massG: numberField({
    label: 'Mass',
    section: 'measurements',
    unit: 'g',
    limits: { min: 0.1, max: 160_000 },
    say: ['mass', 'weight', 'weighs', 'wt', 'body mass'],
    methods: [
      choice('whole', 'Whole bird', 'entire'),
      choice('incomplete', 'Incomplete bird', 'parts missing'),
      choice('wet', 'Wet plumage', 'wet plumage'),
      choice('without-stomach', 'Without stomach contents'),
    ],
    help: {
      what: 'Mass of the bird as it lies on the bench.',
      how: 'Weigh before the first cut, plumage dry, ice brushed off. To 0.1 g if the bird is small. Say "incomplete" when parts are missing.',
      source: 'Common practice, no source; precision from memory',
    },
  }),
  wingMm: numberField({
    label: 'Wing',
    section: 'measurements',
    unit: 'mm',
    limits: { min: 10, max: 950 },
    say: ['wing', 'wing length'],
    sayWithMethod: {
      chord: ['wing chord', 'natural wing', 'chord'],
      flattened: ['flat wing', 'flattened wing'],
      straightened: ['maximum wing', 'straightened wing', 'max wing'],
    },
    methods: [
      choice('chord', 'Chord, natural', 'natural'),
      choice('flattened', 'Flattened', 'flat', 'pressed'),
      choice('straightened', 'Flattened and straightened', 'maximum', 'max'),
    ],
    help: {
      what: 'From the bend of the wing to the tip of the longest primary.',
      how: 'Folded wing on a stopped rule. Chord: natural curve kept. Flattened: pressed on the rule. Straightened: pressed and the primaries drawn straight. To 0.5 or 1 mm; say which method.',
      source: BANDING,
    },
  }),
  tailMm: numberField({
    label: 'Tail',
    section: 'measurements',
    unit: 'mm',
    limits: { min: 5, max: 1800 },
    say: ['tail', 'tail length', 'rectrix'],
    help: {
      what: 'From the base of the central pair, where they leave the skin, to the tip of the longest tail feather.',
      how: 'Rule or dividers between the central pair. To 0.5 or 1 mm.',
      source: BANDING,
    },
  }),
  tarsusMm: numberField({
    label: 'Tarsus',
    section: 'measurements',
    unit: 'mm',
    limits: { min: 2, max: 550 },
    say: ['tarsus', 'tarsometatarsus', 'tarsus length'],
    sayWithMethod: {
      minimum: ['minimum tarsus', 'min tarsus'],
      maximum: ['maximum tarsus', 'max tarsus'],
      'with-toe': ['tarsus and toe', 'tarsus plus toe'],
    },
    methods: [
      choice('minimum', 'Minimum', 'min'),
      choice('maximum', 'Maximum', 'max'),
      choice('with-toe', 'With toe', 'plus toe'),
    ],
    help: {
      what: 'Length of the lower leg from the notch of the hock to the last undivided scute before the toes.',
      how: 'Callipers, leg and foot bent at right angles. Minimum, maximum or with toe: say which. To 0.1 mm.',
      source: `${EURING} (Svensson 1992 for the minimum)`,
    },
  }),
  culmenExposedMm: numberField({
    label: 'Exposed culmen',
    section: 'measurements',
    unit: 'mm',
    limits: { min: 2, max: 520 },
    say: ['exposed culmen', 'culmen', 'bill to feathers', 'bill from feathers'],
    help: {
      what: 'From the edge of the feathering at the forehead to the tip of the bill.',
      how: 'Callipers, along the ridge. To 0.1 mm.',
      source: BANDING,
    },
  }),
  billFromNostrilMm: numberField({
    label: 'Bill from nostril',
    section: 'measurements',
    unit: 'mm',
    limits: { min: 1, max: 500 },
    say: [
      'bill from nostril',
      'bill to nostril',
      'bill from nares',
      'bill to nares',
      'nares',
      'nostril',
      'nares to tip',
    ],
    help: {
      what: 'From the front edge of the nostril opening to the tip of the bill.',
      how: 'Callipers. To 0.1 mm.',
      source: `${BANDING}; ${EURING}`,
    },
  }),
  billToSkullMm: numberField({
    label: 'Bill to skull',
    section: 'measurements',
    unit: 'mm',
    limits: { min: 2, max: 550 },
    say: ['bill to skull', 'bill from skull', 'total culmen', 'culmen to skull'],
    help: {
      what: 'From the angle where the bill meets the skull, under the feathers, to the tip.',
      how: 'Callipers, pressed gently into the angle. To 0.1 mm.',
      source: EURING,
    },
  }),
  billFromCereMm: numberField({
    label: 'Bill from cere',
    section: 'measurements',
    unit: 'mm',
    limits: { min: 1, max: 120 },
    say: ['bill from cere', 'bill to cere', 'culmen from cere'],
    help: {
      what: 'From the front edge of the cere to the tip of the bill: hawks, owls, parrots, pigeons.',
      how: 'Callipers, straight line. To 0.1 mm.',
      source: EURING,
    },
  }),
  billDepthMm: numberField({
    label: 'Bill depth',
    section: 'measurements',
    unit: 'mm',
    limits: { min: 0.5, max: 150 },
    say: ['bill depth', 'depth of bill', 'bill height'],
    help: {
      what: 'Height of the closed bill at the front edge of the nostrils.',
      how: 'Callipers, upright to the cutting edges. To 0.1 mm.',
      source: AVONET,
    },
  }),
  billWidthMm: numberField({
    label: 'Bill width',
    section: 'measurements',
    unit: 'mm',
    limits: { min: 0.3, max: 130 },
    say: ['bill width', 'width of bill', 'bill breadth'],
    help: {
      what: 'Breadth of the bill at the front edge of the nostrils.',
      how: 'Callipers from above. To 0.1 mm.',
      source: AVONET,
    },
  }),
  headAndBillMm: numberField({
    label: 'Head and bill',
    section: 'measurements',
    unit: 'mm',
    limits: { min: 10, max: 650 },
    say: ['head and bill', 'total head', 'head bill', 'head plus bill'],
    help: {
      what: 'From the back of the skull to the tip of the bill.',
      how: 'Before skinning. To 0.1 mm.',
      source: 'Common practice, no source',
    },
  }),
  totalLengthMm: numberField({
    label: 'Total length',
    section: 'measurements',
    unit: 'mm',
    limits: { min: 40, max: 2900 },
    say: ['total length', 'body length', 'length of bird'],
    help: {
      what: 'From the tip of the bill to the tip of the tail.',
      how: 'Bird on its back, neck not stretched, before skinning.',
      source: BANDING,
    },
  }),
  wingspanMm: numberField({
    label: 'Wingspan',
    section: 'measurements',
    unit: 'mm',
    limits: { min: 50, max: 3800 },
    say: ['wingspan', 'wing span', 'span'],
    help: {
      what: 'From wing tip to wing tip.',
      how: 'Bird on its back, wings drawn out straight, before skinning.',
      source: 'Common practice, no source',
    },
  }),
  kippsDistanceMm: numberField({
    label: "Kipp's distance",
    section: 'measurements',
    unit: 'mm',
    limits: { min: 0.1, max: 600 },
    say: ["kipp's distance", 'kipps distance', 'kipp distance', "kipp's", 'kipps', 'kipp'],
    help: {
      what: 'On the folded wing, from the tip of the first secondary to the tip of the longest primary.',
      how: 'Rule under the folded wing. With the wing it gives the hand-wing index; with the first secondary it must add up to the wing.',
      source: AVONET,
    },
  }),
  firstSecondaryMm: numberField({
    label: 'First secondary',
    section: 'measurements',
    unit: 'mm',
    limits: { min: 5, max: 600 },
    say: ['first secondary', 'secondary one', 'secondary 1', 's1'],
    help: {
      what: 'From the bend of the wing to the tip of the first (outermost) secondary.',
      how: 'Folded wing on a stopped rule, the same method as the wing.',
      source: AVONET,
    },
  }),
  middleToeMm: numberField({
    label: 'Middle toe',
    section: 'measurements',
    unit: 'mm',
    limits: { min: 2, max: 250 },
    say: ['middle toe', 'mid toe'],
    help: {
      what: 'From the base of the middle toe to the base of its claw.',
      how: 'Callipers along the top of the straightened toe. To 0.1 mm.',
      source: 'Common practice, no source',
    },
  }),
  hindClawMm: numberField({
    label: 'Hind claw',
    section: 'measurements',
    unit: 'mm',
    limits: { min: 0.5, max: 120 },
    say: ['hind claw', 'hallux claw', 'hallux'],
    help: {
      what: 'Straight line from the skin at the base of the hind claw to its tip.',
      how: 'Callipers. To 0.1 mm.',
      source: 'Common practice, no source',
    },
  }),
  betweenWingsMm: numberField({
    label: 'Between the wings',
    section: 'measurements',
    unit: 'mm',
    limits: { min: 1, max: 500 },
    say: ['between wings', 'between the wings', 'distance between wings', 'wing to wing'],
    help: {
      what: 'Distance between the two wings on the body, taken before they are cut free.',
      how: 'Callipers across the back. The wrists of the skin are tied at 1⅔ of it.',
      source: 'Common practice, no source',
    },
  }),
});
