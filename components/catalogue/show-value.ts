import type { BursaValue } from '@/lib/bench/catalogue/ageing';
import type { BenchVial } from '@/lib/bench/catalogue/body';
import type { ScoreValue, SizeValue } from '@/lib/bench/catalogue/types';
import { FIELDS, type FieldId, isFieldId } from '@/lib/bench/fields';
import { besideMetric } from '@/lib/platform/words/inches';
import { phrases, say, sayCode, sayWord } from '@/lib/platform/words/say';

const nameOf = (field: FieldId, id: string): string =>
  FIELDS[field].choices.find((choice) => choice.id === id)?.label ?? sayWord(id);

const saySize = ({ lengthMm, widthMm }: Partial<SizeValue>): string =>
  [lengthMm, widthMm]
    .filter((side) => side !== undefined)
    .join(' × ')
    .concat(' mm');

function sayBursa({ state, ...size }: BursaValue): string {
  return state === 'present' && size.lengthMm !== undefined
    ? say('present, {size}', { size: saySize(size) })
    : sayCode(state);
}

/** A value of the bench record as a person reads it: "78.2 g", "7 × 4 mm", "2 of 5", "Liver and heart in vial 1". */
export function showValue(field: string, value: unknown): string {
  if (value === null || value === undefined) return say('nothing');
  if (!isFieldId(field)) return typeof value === 'object' ? JSON.stringify(value) : String(value);
  const spec = FIELDS[field];
  switch (spec.form) {
    case 'size':
      return saySize(value as SizeValue);
    case 'score': {
      const { score, scale } = value as ScoreValue;
      return `${score} (${spec.scales.find(({ id }) => id === scale)?.label ?? scale})`;
    }
    case 'bursa':
      return sayBursa(value as BursaValue);
    case 'code':
      return nameOf(field, String(value));
    case 'codes':
      return (value as string[]).map((id) => nameOf(field, id)).join(', ');
    case 'vials':
      return (value as BenchVial[])
        .map(({ vial, kinds }) =>
          say('{kinds} in vial {vial}', {
            kinds: kinds.map((kind) => nameOf(field, kind)).join(say(' and ')),
            vial,
          }),
        )
        .join('; ');
    default:
      if (Array.isArray(value)) return value.join(', ');
      return withInches(value, spec.unit);
  }
}

function withInches(value: unknown, unit: string | null): string {
  const beside = besideMetric(value, unit);
  const metric = unit === null ? String(value) : `${value} ${unit}`;
  return beside === null ? metric : `${metric} (${beside})`;
}

/** The method of a measurement, in words; null when there is none. */
export const showMethod = (field: string, method: string | null): string | null =>
  method === null || !isFieldId(field)
    ? method
    : (FIELDS[field].methods.find(({ id }) => id === method)?.label ?? method);

const BESIDE = phrases({
  record: 'The record as a whole',
  bones: 'Bone book',
  taxon: 'Identification',
  foundOn: 'Date of finding',
  locality: 'Place of finding',
  materials: 'Materials and labels',
});

/** What a remark can be about, beside the fields. */
export const BESIDE_FIELDS = Object.keys(BESIDE) as (keyof typeof BESIDE)[];

/** The label of a field of the record, or of one of the few things beside it that a remark can be about. */
export function fieldLabel(field: string): string {
  if (isFieldId(field)) return FIELDS[field].label;
  return Object.hasOwn(BESIDE, field) ? BESIDE[field as keyof typeof BESIDE] : sayWord(field);
}
