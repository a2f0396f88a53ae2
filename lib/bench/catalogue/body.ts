import { z } from 'zod';
import { choice, codeField, fieldOf, itemsField, textField } from '@/lib/bench/catalogue/types';
import { phrases } from '@/lib/platform/words/say';

const colour = (label: string) =>
  textField({
    label,
    section: 'soft-parts',
    form: 'colour',
    max: 200,
  });

/** Kinds of tissue that can be named at the bench. */
export const TISSUE_KINDS = phrases([
  choice('liver', 'Liver'),
  choice('heart', 'Heart'),
  choice('muscle', 'Muscle', 'breast muscle', 'pectoral muscle'),
  choice('kidney', 'Kidney', 'kidneys'),
  choice('lung', 'Lung', 'lungs'),
  choice('brain', 'Brain'),
  choice('spleen', 'Spleen'),
  choice('gonad', 'Gonad'),
  choice('intestine', 'Intestine', 'gut'),
  choice('blood', 'Blood'),
  choice('skin', 'Skin'),
  choice('toe-pad', 'Toe pad', 'toepad'),
  choice('feather', 'Feather', 'feathers'),
  choice('eye', 'Eye'),
] as const);
export type TissueKind = (typeof TISSUE_KINDS)[number]['id'];

export interface BenchVial {
  vial: number;
  kinds: TissueKind[];
}

const vialsSchema = (): z.ZodType<BenchVial[]> =>
  z
    .array(
      z.strictObject({
        vial: z.int().min(1).max(99),
        kinds: z.array(z.enum(TISSUE_KINDS.map((kind) => kind.id) as [TissueKind])).min(1),
      }),
    )
    .min(1)
    .max(99)
    .refine((vials) => new Set(vials.map(({ vial }) => vial)).size === vials.length, 'Each vial only once')
    .refine(
      (vials) => vials.every(({ kinds }) => new Set(kinds).size === kinds.length),
      'Each tissue only once',
    );

const tissueVials = fieldOf(
  {
    label: 'Tissues and their vials',
    section: 'inside',
    kind: 'list',
    form: 'vials',
    merge: 'add',
    choices: TISSUE_KINDS,
  },
  vialsSchema,
);

export const identificationFields = phrases({
  identifiedAs: textField({
    label: 'Identified at the bench as',
    section: 'identification',
    form: 'text',
    max: 200,
  }),
});

export const softPartFields = phrases({
  irisColour: colour('Iris'),
  upperBillColour: colour('Upper bill'),
  lowerBillColour: colour('Lower bill'),
  billColour: colour('Bill'),
  gapeColour: colour('Mouth and gape'),
  cereColour: colour('Cere'),
  orbitalSkinColour: colour('Skin around the eye'),
  facialSkinColour: colour('Bare skin of face'),
  legColour: colour('Legs'),
  footColour: colour('Feet and toes'),
  clawColour: colour('Claws'),
});

export const insideFields = phrases({
  stomachContents: itemsField({
    label: 'Stomach contents',
    section: 'inside',
  }),
  cropContents: itemsField({
    label: 'Crop contents',
    section: 'inside',
  }),
  parasites: itemsField({
    label: 'Parasites',
    section: 'inside',
  }),
  tissueVials,
});

export const deathFields = phrases({
  carcassCondition: codeField({
    label: 'Condition of the carcass',
    section: 'death',
    choices: [
      choice('fresh', 'Fresh'),
      choice('slightly-decomposed', 'Slightly decomposed', 'beginning to decompose', 'slightly green'),
      choice('decomposed', 'Decomposed', 'rotten', 'green'),
      choice('freezer-dried', 'Dried in the freezer', 'freezer burnt', 'freezer burned', 'freezer burn'),
      choice('dried', 'Dried out', 'mummified', 'dry'),
      choice('eaten', 'Partly eaten', 'partly eaten', 'scavenged'),
    ],
  }),
  trauma: itemsField({
    label: 'Injuries',
    section: 'death',
  }),
  brokenBones: itemsField({
    label: 'Broken bones',
    section: 'death',
  }),
  causeOfDeathFound: textField({
    label: 'Cause of death found',
    section: 'death',
    form: 'text',
    max: 500,
  }),
});

export const remarkFields = phrases({
  remarks: textField({
    label: 'Remarks',
    section: 'remarks',
    form: 'clause',
  }),
});
