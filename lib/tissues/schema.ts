import { z } from 'zod';
import { say } from '@/lib/platform/words/say';
import { preservationKindSchema } from '@/lib/storage/schema';

/** What tissue is in a vial. */
export const tissueKinds = [
  'muscle',
  'heart',
  'liver',
  'kidney',
  'lung',
  'brain',
  'gonad',
  'blood',
  'skin',
  'feather',
  'toe-pad',
  'bone',
  'intestine',
  'spleen',
  'eye',
  'swab',
  'mixed',
  'other',
] as const;
export const tissueKindSchema = z.enum(tissueKinds);
export type TissueKind = z.infer<typeof tissueKindSchema>;

export const preservationSchema = z
  .object({
    kind: preservationKindSchema,
    /** By volume; with ethanol only, and always with it. */
    ethanolPercent: z.number().gt(0).max(100).nullable().default(null),
    /** Where the vial is kept, in °C; null: not recorded. */
    temperatureC: z.number().min(-273.15).max(60).nullable().default(null),
  })
  .refine((value) => (value.kind === 'ethanol') === (value.ethanolPercent !== null), {
    message: 'Give the percentage with ethanol, and only with ethanol.',
    path: ['ethanolPercent'],
  });
export type Preservation = z.infer<typeof preservationSchema>;

export const containerKinds = [
  'cryovial',
  'screw-cap-tube',
  'snap-cap-tube',
  'plate-well',
  'envelope',
  'card',
  'jar',
] as const;
export const containerSchema = z.object({
  kind: z.enum(containerKinds),
  /** Nominal volume in ml; null for envelopes and cards. */
  volumeMl: z.number().gt(0).max(1000).nullable(),
});
export type Container = z.infer<typeof containerSchema>;

export const amountUnits = ['mg', 'g', 'ul', 'ml', 'pieces'] as const;
export const amountSchema = z
  .object({ value: z.number().min(0).max(1_000_000), unit: z.enum(amountUnits) })
  .refine((amount) => amount.unit !== 'pieces' || Number.isInteger(amount.value), {
    message: 'Pieces are whole.',
    path: ['value'],
  });
export type Amount = z.infer<typeof amountSchema>;
export type AmountUnit = Amount['unit'];

const instant = z.iso.datetime({ offset: true }).nullable().default(null);

/** The times that decide how good a vial is, as instants; null: not known. */
export const tissueTimesSchema = z
  .object({
    /** Death lies between these two. */
    diedFromAt: instant,
    diedUntilAt: instant,
    /** The carcass went into the freezer. */
    frozenAt: instant,
    outOfFreezerAt: instant,
    sampledAt: instant,
    /** The vial went into the cold or into its liquid. */
    preservedAt: instant,
  })
  .superRefine((times, context) => {
    const order = [
      'diedFromAt',
      'diedUntilAt',
      'frozenAt',
      'outOfFreezerAt',
      'sampledAt',
      'preservedAt',
    ] as const;
    let before: (typeof order)[number] | null = null;
    for (const name of order) {
      const at = times[name];
      if (at === null) continue;
      const earlier = before === null ? null : times[before];
      // A carcass may be frozen before the end of a death interval that was only guessed.
      const isGuess = name === 'frozenAt' && before === 'diedUntilAt';
      if (earlier !== null && !isGuess && Date.parse(at) < Date.parse(earlier)) {
        context.addIssue({
          code: 'custom',
          path: [name],
          message: say('This is earlier than {before}.', { before }),
        });
      }
      before = name;
    }
  });
export type TissueTimes = z.infer<typeof tissueTimesSchema>;

export const vialStates = ['filled', 'stored', 'partly-used', 'used-up', 'lost'] as const;
export const vialStateSchema = z.enum(vialStates);
export type VialState = z.infer<typeof vialStateSchema>;

/** Whether the animal was alive or fresh when sampled, or found dead and salvaged. */
export const tissueOrigins = ['live', 'fresh', 'salvaged'] as const;
export const tissueOriginSchema = z.enum(tissueOrigins);
export type TissueOrigin = z.infer<typeof tissueOriginSchema>;

export const vialSchema = z.object({
  id: z.string().min(1),
  /** Number of the bird, or of its record before it has a catalogue number. */
  birdNumber: z.string().min(1),
  /** "T1", and "T1.1" for what was taken from it. */
  suffix: z.string().regex(/^[A-Z]{1,3}\d+(?:\.\d+)*$/),
  derivedFromId: z.string().min(1).nullable(),
  tissues: z.array(tissueKindSchema).min(1),
  preservation: preservationSchema,
  container: containerSchema,
  /** null: never measured; then nothing can be taken by amount. */
  amount: amountSchema.nullable(),
  times: tissueTimesSchema,
  thawCount: z.int().min(0).max(99),
  origin: tissueOriginSchema.nullable(),
  /** Measured total yield of DNA in µg. */
  dnaYieldUg: z.number().min(0).nullable(),
  state: vialStateSchema,
});
export type Vial = z.infer<typeof vialSchema>;
