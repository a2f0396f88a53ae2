import { parseDictation } from '@/lib/bench/dictation/parse';
import { REASON_TEXTS } from '@/lib/bench/dictation/reasons';
import type { DictationContext } from '@/lib/bench/dictation/sheet';
import { SPOKEN } from '@/lib/bench/dictation/spoken';
import { FIELDS, type FieldId, type FieldValue } from '@/lib/bench/fields';

export type FieldText =
  | { ok: true; value: FieldValue; method: string | null; verbatim: string }
  | { ok: false; message: string };

/**
 * Reads what was typed into one field's own input: the same words and units as in dictation, without the field's
 * name. "3.7 in" is a wing, "9 by 6" a testis, "none" a bursa.
 */
export function readFieldText(field: FieldId, text: string, context: DictationContext = {}): FieldText {
  const spec = FIELDS[field];
  const typed = text.trim();
  if (spec.kind === 'text')
    return checked(field, spec.form === 'digits' ? typed.replace(/\s+/g, '') : typed, typed);
  if (spec.form === 'items') {
    const items = typed
      .split(/[,;\n]/)
      .map((item) => item.trim())
      .filter((item) => item !== '');
    return checked(field, items, typed);
  }
  const name = SPOKEN[field].say[0] ?? '';
  const { understood, notUnderstood } = parseDictation(`${name} ${typed}`, context);
  const [only] = understood;
  if (understood.length === 1 && only?.field === field && notUnderstood.length === 0) {
    return { ok: true, value: only.value, method: only.method, verbatim: typed };
  }
  const reason = notUnderstood[0]?.reason ?? 'unknown-words';
  return { ok: false, message: `${spec.label}: ${REASON_TEXTS[reason]}` };
}

function checked(field: FieldId, value: unknown, verbatim: string): FieldText {
  const spec = FIELDS[field];
  const parsed = spec.value.safeParse(value);
  if (parsed.success) return { ok: true, value: parsed.data as FieldValue, method: null, verbatim };
  return {
    ok: false,
    message: `${spec.label}: ${parsed.error.issues[0]?.message ?? 'not a value of this field'}`,
  };
}
