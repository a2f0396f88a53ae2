import { parseDictation } from '@/lib/bench/dictation/parse';
import { type PrintableField, printValue } from '@/lib/bench/dictation/print-value';
import { SPOKEN } from '@/lib/bench/dictation/spoken';
import { quote } from '@/lib/bench/dictation/tokens';
import { FIELDS } from '@/lib/bench/fields';

/**
 * Writes fields as one dictation line. Parsing that line gives the same fields, values, methods and
 * correction marks back (property-tested).
 */
export function printDictation(fields: readonly PrintableField[]): string {
  return fields.map(printField).join('; ');
}

function printField(item: PrintableField): string {
  const spec = FIELDS[item.field];
  const said = SPOKEN[item.field].say[0];
  const name = item.correction ? `no, ${said}` : `${said}`;
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
