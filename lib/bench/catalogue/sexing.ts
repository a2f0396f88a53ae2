import {
  choice,
  codeField,
  codesField,
  numberField,
  sizeField,
  textField,
} from '@/lib/bench/catalogue/types';
import { phrases } from '@/lib/platform/words/say';

const GONAD_LIMITS = { min: 0.1, max: 150 };

const testis = (label: string) =>
  sizeField({
    label,
    section: 'sexing',
    limits: GONAD_LIMITS,
  });

const ovary = (label: string) =>
  sizeField({
    label,
    section: 'sexing',
    limits: GONAD_LIMITS,
  });

export const ORGANS = phrases([
  choice('left-testis', 'Left testis'),
  choice('right-testis', 'Right testis'),
  choice('testis', 'Testis, side not noted'),
  choice('left-ovary', 'Left ovary'),
  choice('right-ovary', 'Right ovary'),
  choice('ovary', 'Ovary, side not noted'),
  choice('oviduct', 'Oviduct'),
  choice('none-found', 'Looked for, none found', 'not found', 'not seen', 'nothing found'),
  choice('destroyed', 'Destroyed or decomposed', 'decomposed', 'shot away', 'rotten'),
] as const);
export type OrganId = (typeof ORGANS)[number]['id'];

/** Evidence of sex: what was seen, how large, and what other evidence says. */
export const sexingFields = phrases({
  sex: codeField({
    label: 'Sex as determined',
    section: 'sexing',
    choices: [
      choice('female', 'Female', 'hen'),
      choice('male', 'Male', 'cock'),
      choice('undetermined', 'Undetermined', 'unknown', 'not known', 'not determined'),
    ],
  }),
  organsSeen: codesField({
    label: 'Organs seen',
    section: 'sexing',
    choices: ORGANS,
  }),
  leftTestis: testis('Left testis'),
  rightTestis: testis('Right testis'),
  testis: testis('Testis, side not noted'),
  testisColour: textField({
    label: 'Colour of testes',
    section: 'sexing',
    form: 'colour',
    max: 120,
  }),
  leftOvary: ovary('Left ovary'),
  rightOvary: ovary('Right ovary'),
  ovary: ovary('Ovary, side not noted'),
  ovaryState: codeField({
    label: 'Surface of the ovary',
    section: 'sexing',
    choices: [
      choice('smooth', 'Smooth'),
      choice('granular', 'Finely granular', 'finely granular', 'grainy'),
      choice('follicles-distinct', 'Follicles distinct', 'with follicles', 'distinct follicles'),
      choice('yolked-follicles', 'Yolked follicles', 'with yolked follicles', 'yolky'),
      choice('ruptured-follicles', 'Ruptured follicles', 'with ruptured follicles', 'collapsed follicles'),
    ],
  }),
  largestFollicleMm: numberField({
    label: 'Largest follicle',
    section: 'sexing',
    unit: 'mm',
    limits: { min: 0.1, max: 120 },
  }),
  oviductState: codeField({
    label: 'Oviduct',
    section: 'sexing',
    choices: [
      choice('straight', 'Thin and straight', 'thin', 'thin and straight', 'thread like', 'undeveloped'),
      choice('convoluted', 'Convoluted', 'coiled'),
      choice('enlarged', 'Enlarged', 'swollen', 'enlarged and convoluted'),
      choice('with-egg', 'With an egg', 'with an egg', 'egg in oviduct', 'containing egg'),
    ],
  }),
  oviductWidthMm: numberField({
    label: 'Width of oviduct',
    section: 'sexing',
    unit: 'mm',
    limits: { min: 0.1, max: 80 },
  }),
  plumageSex: codeField({
    label: 'Sex by plumage',
    section: 'sexing',
    choices: [
      choice('female', 'Female plumage', 'female type'),
      choice('male', 'Male plumage', 'male type'),
      choice('sexes-alike', 'Sexes alike or not told', 'monomorphic'),
    ],
  }),
  molecularSex: codeField({
    label: 'Sex by DNA',
    section: 'sexing',
    choices: [choice('female', 'Female'), choice('male', 'Male'), choice('failed', 'Test failed')],
  }),
});
