import { z } from 'zod';
import {
  choice,
  codeField,
  FIELD_BASE,
  type FieldSpec,
  numberField,
  numberWithin,
  textField,
} from '@/lib/bench/catalogue/types';
import { phrases } from '@/lib/platform/words/say';

export interface BursaValue {
  state: 'none' | 'present' | 'not-looked-for';
  lengthMm?: number | undefined;
  widthMm?: number | undefined;
}

const BURSA_LIMITS = { min: 0.1, max: 80 };
const bursaSide = numberWithin(BURSA_LIMITS.min, BURSA_LIMITS.max);

const bursaValue: z.ZodType<BursaValue> = z
  .strictObject({
    state: z.enum(['none', 'present', 'not-looked-for']),
    lengthMm: bursaSide.optional(),
    widthMm: bursaSide.optional(),
  })
  .refine(
    (bursa) => bursa.state === 'present' || bursa.lengthMm === undefined,
    'Only a bursa that is present has a size',
  )
  .refine((bursa) => bursa.lengthMm !== undefined || bursa.widthMm === undefined, 'A width needs its length');

const bursa: FieldSpec<BursaValue> = {
  ...FIELD_BASE,
  label: 'Bursa of Fabricius',
  section: 'ageing',
  kind: 'size',
  unit: 'mm',
  form: 'bursa',
  limits: BURSA_LIMITS,
  say: ['bursa', 'bursa of fabricius'],
  value: bursaValue,
  help: {
    what: 'Length and width of the bursa on the back of the cloaca, or that there is none.',
    how: 'Say "bursa 5 by 3", "no bursa" or "bursa not looked for". It peaks at 4 to 6 months and then shrinks away.',
    source: 'McNeil & Burton, citing Davis 1947',
  },
};

/** Evidence of age, and the age the preparator settles on. */
export const ageingFields = phrases({
  age: codeField({
    label: 'Age as determined',
    section: 'ageing',
    say: ['age', 'aged as', 'aged'],
    choices: [
      choice('nestling', 'Nestling'),
      choice('juvenile', 'Juvenile', 'juv'),
      choice('first-year', 'First year', 'hatch year', 'first winter'),
      choice('immature', 'Immature', 'imm', 'subadult'),
      choice('adult', 'Adult', 'ad'),
      choice('undetermined', 'Undetermined', 'unknown', 'not known', 'not determined'),
    ],
    help: {
      what: 'The age the preparator settles on. The evidence beside it is kept separately.',
      how: '"Undetermined" is a good answer.',
      source: 'Common practice, no source',
    },
  }),
  skullOssificationPct: numberField({
    label: 'Skull ossified',
    section: 'ageing',
    unit: '%',
    limits: { min: 0, max: 100 },
    form: 'skull',
    say: ['skull', 'skull ossification', 'ossification', 'cranium'],
    help: {
      what: 'How much of the skull roof is double and speckled, in hundredths.',
      how: 'Skin peeled back, under a lens. Some passerines finish within two months, others keep windows as adults: it proves less than it seems to.',
      source: 'Bird-ringing literature citing Svensson 1992',
    },
  }),
  skullRemarks: textField({
    label: 'Skull, remarks',
    section: 'ageing',
    form: 'text',
    max: 300,
    say: ['skull remarks', 'skull remark', 'skull pattern'],
    help: {
      what: 'Windows, their place, or damage that hides the ossification.',
      how: '"Skull windows at the back" or "skull partly ossified" is kept here, because it is no figure.',
      source: 'Common practice, no source',
    },
  }),
  bursa,
  plumageAge: codeField({
    label: 'Age by plumage',
    section: 'ageing',
    say: ['plumage age', 'plumage', 'age by plumage'],
    choices: [
      choice('downy', 'Downy'),
      choice('juvenile', 'Juvenile'),
      choice('mixed', 'Juvenile and later feathers', 'some juvenile feathers', 'moult limit'),
      choice('definitive', 'Definitive', 'adult', 'adult type'),
      choice('not-told', 'Not told by plumage'),
    ],
    help: {
      what: 'What the plumage alone says of the age.',
      how: 'Definitive plumage is worn from the first autumn in some species and after years in others.',
      source: 'Common practice, no source',
    },
  }),
});
