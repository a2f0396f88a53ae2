import { z } from 'zod';
import {
  choice,
  codeField,
  fieldOf,
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

function bursaSchema(): z.ZodType<BursaValue> {
  const side = numberWithin(BURSA_LIMITS.min, BURSA_LIMITS.max);
  return z
    .strictObject({
      state: z.enum(['none', 'present', 'not-looked-for']),
      lengthMm: side.optional(),
      widthMm: side.optional(),
    })
    .refine(
      (bursa) => bursa.state === 'present' || bursa.lengthMm === undefined,
      'Only a bursa that is present has a size',
    )
    .refine(
      (bursa) => bursa.lengthMm !== undefined || bursa.widthMm === undefined,
      'A width needs its length',
    );
}

const bursa = fieldOf(
  {
    label: 'Bursa of Fabricius',
    section: 'ageing',
    kind: 'size',
    unit: 'mm',
    form: 'bursa',
    limits: BURSA_LIMITS,
  },
  bursaSchema,
);

/** Evidence of age, and the age the preparator settles on. */
export const ageingFields = phrases({
  age: codeField({
    label: 'Age as determined',
    section: 'ageing',
    choices: [
      choice('nestling', 'Nestling'),
      choice('juvenile', 'Juvenile', 'juv'),
      choice('first-year', 'First year', 'hatch year', 'first winter'),
      choice('immature', 'Immature', 'imm', 'subadult'),
      choice('adult', 'Adult', 'ad'),
      choice('undetermined', 'Undetermined', 'unknown', 'not known', 'not determined'),
    ],
  }),
  skullOssificationPct: numberField({
    label: 'Skull ossified',
    section: 'ageing',
    unit: '%',
    limits: { min: 0, max: 100 },
    form: 'skull',
  }),
  skullRemarks: textField({
    label: 'Skull, remarks',
    section: 'ageing',
    form: 'text',
    max: 300,
  }),
  bursa,
  plumageAge: codeField({
    label: 'Age by plumage',
    section: 'ageing',
    choices: [
      choice('downy', 'Downy'),
      choice('juvenile', 'Juvenile'),
      choice('mixed', 'Juvenile and later feathers', 'some juvenile feathers', 'moult limit'),
      choice('definitive', 'Definitive', 'adult', 'adult type'),
      choice('not-told', 'Not told by plumage'),
    ],
  }),
});
