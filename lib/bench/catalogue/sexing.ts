import {
  choice,
  codeField,
  codesField,
  numberField,
  sizeField,
  textField,
} from '@/lib/bench/catalogue/types';
import { phrases } from '@/lib/platform/words/say';

const CATALOGUES = 'Winker 2000; Foster & Cannell 1990 (from memory)';
const GONAD_LIMITS = { min: 0.1, max: 150 };
const TESTIS_HELP = phrases({
  what: 'Greatest length and width of the testis.',
  how: 'In place, from the left flank by the hindmost ribs against the back, before anything is removed. Length, then width, to 0.5 mm.',
  source: CATALOGUES,
});
const OVARY_HELP = phrases({
  what: 'Greatest length and width of the ovary.',
  how: 'In place, from the left flank by the hindmost ribs against the back, before anything is removed. Length, then width, to 0.5 mm. A right ovary is recorded as seen; it gets a warning, never a refusal.',
  source: `${CATALOGUES}; Kinsky 1971 for paired ovaries`,
});

const testis = (label: string, say: string[]) =>
  sizeField({
    label,
    section: 'sexing',
    limits: GONAD_LIMITS,
    say,
    help: TESTIS_HELP,
  });

const ovary = (label: string, say: string[]) =>
  sizeField({
    label,
    section: 'sexing',
    limits: GONAD_LIMITS,
    say,
    help: OVARY_HELP,
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
    say: ['sex', 'sexed as', 'sexed'],
    choices: [
      choice('female', 'Female', 'hen'),
      choice('male', 'Male', 'cock'),
      choice('undetermined', 'Undetermined', 'unknown', 'not known', 'not determined'),
    ],
    help: {
      what: 'The sex the preparator settles on. The evidence beside it is kept separately.',
      how: '"Undetermined" is a good answer when nothing was found.',
      source: 'Darwin Core term sex',
    },
  }),
  organsSeen: codesField({
    label: 'Organs seen',
    section: 'sexing',
    say: ['organs seen', 'gonads seen', 'gonads', 'organs', 'gonad'],
    choices: ORGANS,
    help: {
      what: 'Which sex organs were seen, and on which side, measured or not.',
      how: 'Say "left ovary seen", "testes seen", "gonads not found" or "gonads destroyed".',
      source: CATALOGUES,
    },
  }),
  leftTestis: testis('Left testis', [
    'left testis',
    'testis left',
    'testes left',
    'left teste',
    'left testicle',
    'l testis',
  ]),
  rightTestis: testis('Right testis', [
    'right testis',
    'testis right',
    'testes right',
    'right teste',
    'right testicle',
    'r testis',
  ]),
  testis: testis('Testis, side not noted', ['testis', 'testicle']),
  testisColour: textField({
    label: 'Colour of testes',
    section: 'sexing',
    form: 'colour',
    max: 120,
    say: ['testis colour', 'testes colour', 'testis color', 'testes color', 'testes', 'colour of testes'],
    help: {
      what: 'Colour of the testes.',
      how: 'In words, in fresh state: cream, yellow, grey, black.',
      source: 'Common practice, no source',
    },
  }),
  leftOvary: ovary('Left ovary', ['left ovary', 'ovary left', 'l ovary']),
  rightOvary: ovary('Right ovary', ['right ovary', 'ovary right', 'r ovary']),
  ovary: ovary('Ovary, side not noted', ['ovary']),
  ovaryState: codeField({
    label: 'Surface of the ovary',
    section: 'sexing',
    say: ['ovary state', 'ovary surface', 'ovary looks', 'ovary'],
    choices: [
      choice('smooth', 'Smooth'),
      choice('granular', 'Finely granular', 'finely granular', 'grainy'),
      choice('follicles-distinct', 'Follicles distinct', 'with follicles', 'distinct follicles'),
      choice('yolked-follicles', 'Yolked follicles', 'with yolked follicles', 'yolky'),
      choice('ruptured-follicles', 'Ruptured follicles', 'with ruptured follicles', 'collapsed follicles'),
    ],
    help: {
      what: 'How the surface of the ovary looks.',
      how: 'Smooth in young birds; granular or with follicles later; ruptured follicles after laying.',
      source: CATALOGUES,
    },
  }),
  largestFollicleMm: numberField({
    label: 'Largest follicle',
    section: 'sexing',
    unit: 'mm',
    limits: { min: 0.1, max: 120 },
    say: ['largest follicle', 'largest ovum', 'follicle', 'follicles to', 'biggest follicle'],
    help: {
      what: 'Diameter of the largest follicle.',
      how: 'Callipers beside it, to 0.1 mm if small.',
      source: CATALOGUES,
    },
  }),
  oviductState: codeField({
    label: 'Oviduct',
    section: 'sexing',
    say: ['oviduct', 'oviduct state'],
    choices: [
      choice('straight', 'Thin and straight', 'thin', 'thin and straight', 'thread like', 'undeveloped'),
      choice('convoluted', 'Convoluted', 'coiled'),
      choice('enlarged', 'Enlarged', 'swollen', 'enlarged and convoluted'),
      choice('with-egg', 'With an egg', 'with an egg', 'egg in oviduct', 'containing egg'),
    ],
    help: {
      what: 'State of the oviduct.',
      how: 'A convoluted or enlarged oviduct has laid or is about to; a straight one has not laid lately.',
      source: CATALOGUES,
    },
  }),
  oviductWidthMm: numberField({
    label: 'Width of oviduct',
    section: 'sexing',
    unit: 'mm',
    limits: { min: 0.1, max: 80 },
    say: ['oviduct width', 'width of oviduct'],
    help: {
      what: 'Greatest width of the oviduct.',
      how: 'In place, not stretched.',
      source: CATALOGUES,
    },
  }),
  plumageSex: codeField({
    label: 'Sex by plumage',
    section: 'sexing',
    say: ['plumage sex', 'plumage', 'sex by plumage'],
    choices: [
      choice('female', 'Female plumage', 'female type'),
      choice('male', 'Male plumage', 'male type'),
      choice('sexes-alike', 'Sexes alike or not told', 'monomorphic'),
    ],
    help: {
      what: 'What the plumage alone says of the sex.',
      how: 'Kept apart from the gonads: the two can disagree, and then both are worth knowing.',
      source: 'Common practice, no source',
    },
  }),
  molecularSex: codeField({
    label: 'Sex by DNA',
    section: 'sexing',
    say: ['dna sex', 'dna', 'molecular sex', 'sex by dna'],
    choices: [choice('female', 'Female'), choice('male', 'Male'), choice('failed', 'Test failed')],
    help: {
      what: 'Result of a DNA test, when one was made.',
      how: 'Say who tested in the remarks.',
      source: 'Common practice, no source',
    },
  }),
});
