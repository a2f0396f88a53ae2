import type { BursaValue } from '@/lib/bench/catalogue/ageing';
import type { BenchVial } from '@/lib/bench/catalogue/body';
import type { ScoreValue, SizeValue } from '@/lib/bench/catalogue/types';
import { parseDictation } from '@/lib/bench/dictation/parse';
import { quote } from '@/lib/bench/dictation/tokens';
import { FIELDS, type FieldId, type FieldValue } from '@/lib/bench/fields';

export interface PrintableField {
  field: FieldId;
  value: FieldValue;
  method?: string | null;
  correction?: boolean;
}

/**
 * Writes fields as one dictation line. Parsing that line gives the same fields, values, methods and
 * correction marks back (property-tested).
 */
export function printDictation(fields: readonly PrintableField[]): string {
  return fields.map(printField).join('; ');
}

function printField(item: PrintableField): string {
  const spec = FIELDS[item.field];
  const name = item.correction ? `no, ${spec.say[0]}` : `${spec.say[0]}`;
  if (spec.kind === 'text' && spec.form !== 'digits') {
    const plain = `${name} ${item.value}`;
    return readsBack(plain, item) ? plain : `${name} ${quote(String(item.value))}`;
  }
  if (spec.form === 'items') {
    const items = item.value as string[];
    const plain = `${name} ${items.join(', ')}`;
    return readsBack(plain, item) ? plain : `${name} ${items.map(quote).join(', ')}`;
  }
  return `${name} ${printValue(item)}`;
}

/** A quotation mark in plain text could open a quotation that runs into the next field. */
const readsBack = (line: string, item: PrintableField): boolean => {
  if (line.includes('"')) return false;
  const { understood, notUnderstood } = parseDictation(line);
  const [only] = understood;
  return (
    understood.length === 1 &&
    notUnderstood.length === 0 &&
    only?.field === item.field &&
    JSON.stringify(only.value) === JSON.stringify(item.value)
  );
};

function printValue({ field, value, method }: PrintableField): string {
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
