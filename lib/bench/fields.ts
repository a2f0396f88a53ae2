import type { z } from 'zod';
import { ageingFields } from '@/lib/bench/catalogue/ageing';
import {
  deathFields,
  identificationFields,
  insideFields,
  remarkFields,
  softPartFields,
} from '@/lib/bench/catalogue/body';
import { fatAndMoultFields } from '@/lib/bench/catalogue/fat-and-moult';
import { measurementFields } from '@/lib/bench/catalogue/measurements';
import { sexingFields } from '@/lib/bench/catalogue/sexing';
import { type FieldSpec, SECTIONS, type SectionId } from '@/lib/bench/catalogue/types';
import { say } from '@/lib/platform/words/say';

const CATALOGUE = {
  ...identificationFields,
  ...measurementFields,
  ...sexingFields,
  ...ageingFields,
  ...fatAndMoultFields,
  ...softPartFields,
  ...insideFields,
  ...deathFields,
  ...remarkFields,
};

export type FieldId = keyof typeof CATALOGUE;
/** The JSON value that a field holds. */
export type FieldValue<F extends FieldId = FieldId> = z.infer<(typeof CATALOGUE)[F]['value']>;
/** The fields whose value is one number in mm, g or %. */
export type NumberFieldId = { [F in FieldId]: FieldValue<F> extends number ? F : never }[FieldId];
/** Current values of a record; a field that was never filled is absent. */
export type BenchValues = { [F in FieldId]?: FieldValue<F> };

/** Every field of the bench record, in the order of the work. */
export const FIELDS: Readonly<Record<FieldId, FieldSpec>> = CATALOGUE;

export const FIELD_IDS = Object.keys(CATALOGUE) as FieldId[];

/** Fields that hold one number, in the order of the work. */
export const NUMBER_FIELDS = FIELD_IDS.filter(
  (field): field is NumberFieldId => FIELDS[field].kind === 'number',
);

/** Is this text the identifier of a field of the record? */
export function isFieldId(text: string): text is FieldId {
  return Object.hasOwn(CATALOGUE, text);
}

/** The fields of one section in the order of the work. */
export function fieldsOfSection(section: SectionId): FieldId[] {
  return FIELD_IDS.filter((id) => FIELDS[id].section === section);
}

/** The sections with their fields, for the form and the printed sheet. */
export function listSections(): { id: SectionId; label: string; fields: FieldId[] }[] {
  return SECTIONS.map((section) => ({ ...section, fields: fieldsOfSection(section.id) }));
}

export type ParsedValue =
  | { ok: true; value: FieldValue; unit: string | null; method: string | null }
  | { ok: false; message: string };

/**
 * Checks a value and its method against the catalogue. Never throws: a wrong value comes back as a
 * message for the person. The unit is the field's own; other units are converted before.
 */
export function parseFieldValue(field: FieldId, value: unknown, method: string | null = null): ParsedValue {
  const spec = FIELDS[field];
  const parsed = spec.value.safeParse(value);
  if (!parsed.success) {
    return {
      ok: false,
      message: `${spec.label}: ${parsed.error.issues[0]?.message ?? say('not a value of this field')}`,
    };
  }
  if (method !== null && !spec.methods.some((known) => known.id === method)) {
    return {
      ok: false,
      message: say('{label}: "{method}" is not one of its methods', { label: spec.label, method }),
    };
  }
  return { ok: true, value: parsed.data as FieldValue, unit: spec.unit, method };
}
