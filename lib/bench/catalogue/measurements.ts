import { choice, numberField } from '@/lib/bench/catalogue/types';
import { phrases } from '@/lib/platform/words/say';

/** Mass and outer measurements, in the order in which they are taken. */
export const measurementFields = phrases({
  massG: numberField({
    label: 'Mass',
    section: 'measurements',
    unit: 'g',
    limits: { min: 0.1, max: 160_000 },
    methods: [
      choice('whole', 'Whole bird', 'entire'),
      choice('incomplete', 'Incomplete bird', 'parts missing'),
      choice('wet', 'Wet plumage', 'wet plumage'),
      choice('without-stomach', 'Without stomach contents'),
    ],
  }),
  wingMm: numberField({
    label: 'Wing',
    section: 'measurements',
    unit: 'mm',
    limits: { min: 10, max: 950 },
    methods: [
      choice('chord', 'Chord, natural', 'natural'),
      choice('flattened', 'Flattened', 'flat', 'pressed'),
      choice('straightened', 'Flattened and straightened', 'maximum', 'max'),
    ],
  }),
  tailMm: numberField({
    label: 'Tail',
    section: 'measurements',
    unit: 'mm',
    limits: { min: 5, max: 1800 },
  }),
  tarsusMm: numberField({
    label: 'Tarsus',
    section: 'measurements',
    unit: 'mm',
    limits: { min: 2, max: 550 },
    methods: [
      choice('minimum', 'Minimum', 'min'),
      choice('maximum', 'Maximum', 'max'),
      choice('with-toe', 'With toe', 'plus toe'),
    ],
  }),
  culmenExposedMm: numberField({
    label: 'Exposed culmen',
    section: 'measurements',
    unit: 'mm',
    limits: { min: 2, max: 520 },
  }),
  billFromNostrilMm: numberField({
    label: 'Bill from nostril',
    section: 'measurements',
    unit: 'mm',
    limits: { min: 1, max: 500 },
  }),
  billToSkullMm: numberField({
    label: 'Bill to skull',
    section: 'measurements',
    unit: 'mm',
    limits: { min: 2, max: 550 },
  }),
  billFromCereMm: numberField({
    label: 'Bill from cere',
    section: 'measurements',
    unit: 'mm',
    limits: { min: 1, max: 120 },
  }),
  billDepthMm: numberField({
    label: 'Bill depth',
    section: 'measurements',
    unit: 'mm',
    limits: { min: 0.5, max: 150 },
  }),
  billWidthMm: numberField({
    label: 'Bill width',
    section: 'measurements',
    unit: 'mm',
    limits: { min: 0.3, max: 130 },
  }),
  headAndBillMm: numberField({
    label: 'Head and bill',
    section: 'measurements',
    unit: 'mm',
    limits: { min: 10, max: 650 },
  }),
  totalLengthMm: numberField({
    label: 'Total length',
    section: 'measurements',
    unit: 'mm',
    limits: { min: 40, max: 2900 },
  }),
  wingspanMm: numberField({
    label: 'Wingspan',
    section: 'measurements',
    unit: 'mm',
    limits: { min: 50, max: 3800 },
  }),
  kippsDistanceMm: numberField({
    label: "Kipp's distance",
    section: 'measurements',
    unit: 'mm',
    limits: { min: 0.1, max: 600 },
  }),
  firstSecondaryMm: numberField({
    label: 'First secondary',
    section: 'measurements',
    unit: 'mm',
    limits: { min: 5, max: 600 },
  }),
  middleToeMm: numberField({
    label: 'Middle toe',
    section: 'measurements',
    unit: 'mm',
    limits: { min: 2, max: 250 },
  }),
  hindClawMm: numberField({
    label: 'Hind claw',
    section: 'measurements',
    unit: 'mm',
    limits: { min: 0.5, max: 120 },
  }),
  betweenWingsMm: numberField({
    label: 'Between the wings',
    section: 'measurements',
    unit: 'mm',
    limits: { min: 1, max: 500 },
  }),
});
