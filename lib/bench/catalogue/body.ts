import { z } from 'zod';
import {
  choice,
  codeField,
  FIELD_BASE,
  type FieldSpec,
  itemsField,
  textField,
} from '@/lib/bench/catalogue/types';
import { phrases } from '@/lib/platform/words/say';

const LABEL_MINIMUM = 'Van Tyne 1952; Winker 2000 (from memory)';

const colour = (label: string, say: string[]) =>
  textField({
    label,
    section: 'soft-parts',
    form: 'colour',
    max: 200,
    say,
    help: phrases({
      what: 'Colour of this soft part.',
      how: 'In words, before it fades: within hours of thawing. Name the colour standard if one was used.',
      source: LABEL_MINIMUM,
    }),
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

const tissueIds = TISSUE_KINDS.map((kind) => kind.id) as [TissueKind];
const benchVials: z.ZodType<BenchVial[]> = z
  .array(z.strictObject({ vial: z.int().min(1).max(99), kinds: z.array(z.enum(tissueIds)).min(1) }))
  .min(1)
  .max(99)
  .refine((vials) => new Set(vials.map(({ vial }) => vial)).size === vials.length, 'Each vial only once')
  .refine(
    (vials) => vials.every(({ kinds }) => new Set(kinds).size === kinds.length),
    'Each tissue only once',
  );

const tissueVials: FieldSpec<BenchVial[]> = {
  ...FIELD_BASE,
  label: 'Tissues and their vials',
  section: 'inside',
  kind: 'list',
  form: 'vials',
  merge: 'add',
  choices: TISSUE_KINDS,
  say: ['vial', 'vials', 'tissue vial', 'tube'],
  value: benchVials,
  help: {
    what: 'Which tissues went into which vial of this bird (vial 1, vial 2 …).',
    how: 'At once, while still cold. Two duplicate vials; share larger organs between them. Say "liver and heart in vial two".',
    source: 'Winker 2000 for two duplicates; common practice for the rest',
  },
};

export const identificationFields = phrases({
  identifiedAs: textField({
    label: 'Identified at the bench as',
    section: 'identification',
    form: 'text',
    max: 200,
    say: ['identified as', 'determined as', 'species'],
    help: {
      what: 'The name the preparator gives the bird with it in hand.',
      how: 'It is a proposal: the identification of the bird changes only when it is accepted there.',
      source: LABEL_MINIMUM,
    },
  }),
});

export const softPartFields = phrases({
  irisColour: colour('Iris', ['iris', 'irides', 'eye', 'eyes', 'iris colour', 'eye colour']),
  upperBillColour: colour('Upper bill', ['upper bill', 'upper mandible', 'maxilla']),
  lowerBillColour: colour('Lower bill', ['lower bill', 'lower mandible', 'mandible']),
  billColour: colour('Bill', ['bill', 'beak', 'bill colour']),
  gapeColour: colour('Mouth and gape', ['gape', 'mouth', 'mouth lining']),
  cereColour: colour('Cere', ['cere']),
  orbitalSkinColour: colour('Skin around the eye', ['eye ring', 'eyering', 'orbital skin', 'orbital ring']),
  facialSkinColour: colour('Bare skin of face', ['facial skin', 'face skin', 'lores', 'wattle']),
  legColour: colour('Legs', ['legs', 'leg', 'tarsi', 'leg colour', 'legs and feet', 'legs and toes']),
  footColour: colour('Feet and toes', ['feet', 'foot', 'toes', 'soles']),
  clawColour: colour('Claws', ['claws', 'claw', 'nails']),
});

export const insideFields = phrases({
  stomachContents: itemsField({
    label: 'Stomach contents',
    section: 'inside',
    say: ['stomach', 'stomach contents', 'gizzard', 'stomach contains', 'stomach content'],
    help: {
      what: 'What the stomach holds, item by item, with counts where they can be told.',
      how: 'Open it over a dish. Say "stomach two beetles and grit" or "stomach empty". Keep the contents with the other materials.',
      source: 'Winker 2000 (abstract)',
    },
  }),
  cropContents: itemsField({
    label: 'Crop contents',
    section: 'inside',
    say: ['crop', 'crop contents', 'crop contains'],
    help: { what: 'What the crop holds.', how: 'As for the stomach.', source: LABEL_MINIMUM },
  }),
  parasites: itemsField({
    label: 'Parasites',
    section: 'inside',
    say: ['parasites', 'parasite', 'ectoparasites', 'endoparasites'],
    help: {
      what: 'Parasites seen outside and inside, and where they were kept.',
      how: 'Say "parasites feather lice and one louse fly", or "no parasites" when none were found.',
      source: 'Common practice, no source',
    },
  }),
  tissueVials,
});

export const deathFields = phrases({
  carcassCondition: codeField({
    label: 'Condition of the carcass',
    section: 'death',
    say: ['condition', 'carcass', 'carcass condition'],
    choices: [
      choice('fresh', 'Fresh'),
      choice('slightly-decomposed', 'Slightly decomposed', 'beginning to decompose', 'slightly green'),
      choice('decomposed', 'Decomposed', 'rotten', 'green'),
      choice('freezer-dried', 'Dried in the freezer', 'freezer burnt', 'freezer burned', 'freezer burn'),
      choice('dried', 'Dried out', 'mummified', 'dry'),
      choice('eaten', 'Partly eaten', 'partly eaten', 'scavenged'),
    ],
    help: {
      what: 'State of the carcass when it came to the bench.',
      how: 'It decides what can still be made of the bird and how far the mass can be trusted.',
      source: 'Common practice, no source',
    },
  }),
  trauma: itemsField({
    label: 'Injuries',
    section: 'death',
    say: ['trauma', 'injuries', 'injury', 'injured'],
    help: {
      what: 'Injuries found, item by item: fractures, bleeding, wounds.',
      how: 'Say the side and the bone. "No trauma" when none were found.',
      source: LABEL_MINIMUM,
    },
  }),
  brokenBones: itemsField({
    label: 'Broken bones',
    section: 'death',
    say: ['broken', 'broken bones', 'fractured', 'fractures'],
    help: {
      what: 'Bones that are broken, each with its side.',
      how: 'Say "broken left humerus and right tibiotarsus". The bone book proposes the side to keep whole from it.',
      source: 'Common practice, no source',
    },
  }),
  causeOfDeathFound: textField({
    label: 'Cause of death found',
    section: 'death',
    form: 'text',
    max: 500,
    say: ['cause of death', 'died of', 'killed by', 'death'],
    help: {
      what: 'What the inside of the bird says of its death.',
      how: 'It is held against what the finder reported; the two may differ.',
      source: LABEL_MINIMUM,
    },
  }),
});

export const remarkFields = phrases({
  remarks: textField({
    label: 'Remarks',
    section: 'remarks',
    form: 'clause',
    say: ['remarks', 'remark', 'note', 'notes', 'comment'],
    help: {
      what: 'Anything else that cannot be seen again once the bird is a skin.',
      how: 'Everything up to a semicolon or the end of the line is the remark.',
      source: 'Common practice, no source',
    },
  }),
});
