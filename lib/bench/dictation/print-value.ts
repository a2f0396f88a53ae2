import type { BursaValue } from '@/lib/bench/catalogue/ageing';
import type { BenchVial } from '@/lib/bench/catalogue/body';
import type { ScoreValue, SizeValue } from '@/lib/bench/catalogue/types';
import { FIELDS, type FieldId, type FieldValue } from '@/lib/bench/fields';

export interface PrintableField {
  field: FieldId;
  value: FieldValue;
  method?: string | null;
  correction?: boolean;
}

/** The value of a field as it is said after the field's name; not for words and lists of words, which may need quotes. */
export function printValue({ field, value, method }: PrintableField): string {
  const spec = FIELDS[field];
  switch (spec.form) {
    case 'size':
      return printSize(value as SizeValue);
    case 'score': {
      const { score, scale } = value as ScoreValue;
      return `${score} ${spec.scales.find((known) => known.id === scale)?.say[0] ?? ''}`;
    }
    case 'code':
      return sayChoice(field, value as string);
    case 'codes':
      return (value as string[]).map((id) => sayChoice(field, id)).join(', ');
    case 'bursa':
      return printBursa(value as BursaValue);
    case 'vials':
      return (value as BenchVial[])
        .map(({ vial, kinds }) => `${vial} ${kinds.map((kind) => sayChoice(field, kind)).join(' and ')}`)
        .join(', vial ');
    case 'digits':
      return String(value);
    default: {
      const spoken = spec.methods.find((known) => known.id === method)?.say[0];
      return [spoken, value, spec.unit].filter((part) => part !== undefined && part !== null).join(' ');
    }
  }
}

const printSize = ({ lengthMm, widthMm }: SizeValue): string =>
  widthMm === undefined ? `${lengthMm} mm` : `${lengthMm} by ${widthMm} mm`;

function printBursa({ state, lengthMm, widthMm }: BursaValue): string {
  if (state === 'present') return lengthMm === undefined ? 'present' : printSize({ lengthMm, widthMm });
  return state === 'none' ? 'none' : 'not looked for';
}

const sayChoice = (field: FieldId, id: string): string =>
  FIELDS[field].choices.find((choice) => choice.id === id)?.say[0] ?? id;
