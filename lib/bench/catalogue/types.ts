import { z } from 'zod';
import { phrases } from '@/lib/platform/words/say';

export const SECTIONS = phrases([
  { id: 'identification', label: 'Identification' },
  { id: 'measurements', label: 'Mass and measurements' },
  { id: 'sexing', label: 'Sex and gonads' },
  { id: 'ageing', label: 'Age' },
  { id: 'fat-and-moult', label: 'Fat, muscle, moult and brood patch' },
  { id: 'soft-parts', label: 'Colours of soft parts' },
  { id: 'inside', label: 'Stomach, parasites and tissues' },
  { id: 'death', label: 'Condition and cause of death' },
  { id: 'remarks', label: 'Remarks' },
] as const);
export type SectionId = (typeof SECTIONS)[number]['id'];

export type FieldUnit = 'mm' | 'g' | '%';
export type FieldKind = 'number' | 'code' | 'text' | 'list' | 'size' | 'score';

/** How a value is spoken; the dictation grammar has one reader for each. */
export type SpokenForm =
  | 'number'
  | 'size'
  | 'score'
  | 'code'
  | 'codes'
  | 'digits'
  | 'colour'
  | 'items'
  | 'text'
  | 'clause'
  | 'skull'
  | 'bursa'
  | 'vials';

/** One word of a controlled list, with the ways it is said aloud (the first is the one we print). */
export interface Choice {
  id: string;
  label: string;
  say: readonly string[];
}

export interface Scale extends Choice {
  max: number;
  source: string;
}

export interface FieldSpec<Value = unknown> {
  label: string;
  section: SectionId;
  kind: FieldKind;
  unit: FieldUnit | null;
  form: SpokenForm;
  methods: readonly Choice[];
  choices: readonly Choice[];
  scales: readonly Scale[];
  /** Hard limits of each number in the value, in the field's unit: outside them it is a slip. */
  limits: { min: number; max: number } | null;
  /** Does a later entry replace the value or add to the list? */
  merge: 'replace' | 'add';
  value: z.ZodType<Value>;
}

type Common = Pick<FieldSpec, 'label' | 'section'> & Partial<Pick<FieldSpec, 'methods'>>;
type Described = Pick<FieldSpec, 'label' | 'section' | 'kind' | 'form'> & Partial<Omit<FieldSpec, 'value'>>;

const BASE = {
  unit: null,
  methods: [],
  choices: [],
  scales: [],
  limits: null,
  merge: 'replace',
} as const;

/**
 * A field of the record. Its schema is made when a value is first judged: a page shows a hundred fields, and judges
 * few of them.
 */
export function fieldOf<Value>(spec: Described, makeSchema: () => z.ZodType<Value>): FieldSpec<Value> {
  let schema: z.ZodType<Value> | undefined;
  return {
    ...BASE,
    ...spec,
    get value() {
      schema ??= makeSchema();
      return schema;
    },
  };
}

/** Finest step that a bench number keeps: nothing is measured finer than a thousandth. */
export const roundToStep = (value: number): number => Math.round(value * 1000) / 1000;

export const numberWithin = (min: number, max: number) =>
  z
    .number()
    .min(min)
    .max(max)
    .refine((value) => roundToStep(value) === value, 'At most three decimals');

export function numberField(
  spec: Common & { unit: FieldUnit; limits: { min: number; max: number }; form?: 'number' | 'skull' },
): FieldSpec<number> {
  const { min, max } = spec.limits;
  return fieldOf({ form: 'number', ...spec, kind: 'number' }, () => numberWithin(min, max));
}

export type SizeValue = { lengthMm: number; widthMm?: number | undefined };

export function sizeField(spec: Common & { limits: { min: number; max: number } }): FieldSpec<SizeValue> {
  return fieldOf({ ...spec, unit: 'mm', kind: 'size', form: 'size' }, () => {
    const side = numberWithin(spec.limits.min, spec.limits.max);
    return z.strictObject({ lengthMm: side, widthMm: side.optional() });
  });
}

export function codeField<const C extends readonly Choice[]>(
  spec: Common & { choices: C },
): FieldSpec<C[number]['id']> {
  return fieldOf({ ...spec, kind: 'code', form: 'code' }, () => oneOf(spec.choices));
}

export function codesField<const C extends readonly Choice[]>(
  spec: Common & { choices: C },
): FieldSpec<C[number]['id'][]> {
  return fieldOf({ ...spec, kind: 'list', form: 'codes', merge: 'add' }, () =>
    z
      .array(oneOf(spec.choices))
      .min(1)
      .refine((codes) => new Set(codes).size === codes.length, 'Each only once'),
  );
}

const oneOf = <const C extends readonly Choice[]>(choices: C) =>
  z.enum(choices.map(({ id }) => id) as [C[number]['id']]);

export type ScoreValue = { score: number; scale: string };

/** The scale to use when a score was spoken without one and the lab has set none. */
export const SCALE_NOT_STATED = 'not-stated';

export function scoreField(spec: Common & { scales: readonly Scale[] }): FieldSpec<ScoreValue> {
  const highest = Math.max(...spec.scales.map((scale) => scale.max));
  const scales: Scale[] = [
    ...spec.scales,
    { id: SCALE_NOT_STATED, label: 'Scale not stated', say: ['scale not stated'], max: highest, source: '' },
  ];
  return fieldOf({ ...spec, scales, kind: 'score', form: 'score' }, () =>
    z
      .strictObject({ score: z.int().min(0), scale: z.enum(scales.map((scale) => scale.id)) })
      .refine(
        ({ score, scale }) => score <= (scales.find((known) => known.id === scale)?.max ?? -1),
        'The score is beyond the end of its scale',
      ),
  );
}

const trimmedText = (max: number) =>
  z
    .string()
    .min(1)
    .max(max)
    .refine((text) => text === text.trim(), 'No blanks at either end');

export function textField(
  spec: Common & { form: 'text' | 'clause' | 'colour'; max?: number },
): FieldSpec<string> {
  const { max = 2000, ...rest } = spec;
  return fieldOf({ ...rest, kind: 'text' }, () => trimmedText(max));
}

export function digitsField(spec: Common & { length: { min: number; max: number } }): FieldSpec<string> {
  const { length, ...rest } = spec;
  const pattern = `^[0-5]{${length.min},${length.max}}$`;
  return fieldOf({ ...rest, kind: 'text', form: 'digits' }, () => z.string().regex(new RegExp(pattern)));
}

export function itemsField(spec: Common): FieldSpec<string[]> {
  return fieldOf({ ...spec, kind: 'list', form: 'items' }, () => z.array(trimmedText(200)).min(1).max(40));
}

/** A choice whose spoken form is its identifier with blanks, plus any other ways to say it. */
export function choice<const Id extends string>(
  id: Id,
  label: string,
  ...say: string[]
): { id: Id; label: string; say: readonly string[] } {
  return { id, label, say: [id.replaceAll('-', ' '), ...say] };
}
