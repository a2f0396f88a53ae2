import type { PermitClause, YearBasis } from '@/lib/permits/permit-schema';
import { readPlaces, readTaxa, writePlaces, writeTaxa } from '@/lib/permits/rules/written-lines';

/** A clause while it is being written: every field as text or ticks, so that nothing typed is lost. */
export type ClauseDraft = {
  key: string;
  id: string;
  kind: PermitClause['kind'];
  text: string;
  fields: Record<string, string>;
  ticks: string[];
};

/** Which fields each kind of clause has, in order. */
export const CLAUSE_FIELDS: Record<PermitClause['kind'], readonly string[]> = {
  'taxa-allowed': ['taxa'],
  'taxa-excluded': ['taxa'],
  'contact-first': ['taxa', 'contact'],
  'special-authorisation': ['taxa'],
  'specimen-types': ['types'],
  places: ['places'],
  quota: ['taxa', 'maximum', 'year', 'startsOn'],
  'who-may-act': ['who'],
  tagging: ['fields'],
  'transfer-within-days': ['days', 'after'],
  'report-due': ['year', 'startsOn', 'rule', 'days', 'monthDay'],
  'record-retention': ['years', 'after'],
  'cataloguing-is-disposition': ['isDisposition'],
  grace: ['until', 'renewalAppliedOn'],
};

const yearFields = (year: YearBasis): Record<string, string> => ({
  year: year.basis,
  startsOn: year.basis === 'fiscal' ? year.startsOn : '',
});

function fieldsOf(clause: PermitClause): { fields: Record<string, string>; ticks: string[] } {
  switch (clause.kind) {
    case 'taxa-allowed':
    case 'taxa-excluded':
    case 'special-authorisation':
      return { fields: { taxa: writeTaxa(clause.taxa) }, ticks: [] };
    case 'contact-first':
      return { fields: { taxa: writeTaxa(clause.taxa), contact: clause.contact }, ticks: [] };
    case 'specimen-types':
      return { fields: {}, ticks: clause.types };
    case 'places':
      return { fields: { places: writePlaces(clause.places) }, ticks: [] };
    case 'quota':
      return {
        fields: { taxa: writeTaxa(clause.taxa), maximum: String(clause.maximum), ...yearFields(clause.year) },
        ticks: [],
      };
    case 'who-may-act':
      return { fields: {}, ticks: clause.who };
    case 'tagging':
      return { fields: {}, ticks: clause.fields };
    case 'transfer-within-days':
      return { fields: { days: String(clause.days), after: clause.after }, ticks: [] };
    case 'report-due':
      return {
        fields: {
          ...yearFields(clause.year),
          rule: clause.due.rule,
          days: clause.due.rule === 'days-after' ? String(clause.due.days) : '',
          monthDay: clause.due.rule === 'month-day' ? clause.due.monthDay : '',
        },
        ticks: [],
      };
    case 'record-retention':
      return { fields: { years: String(clause.years), after: clause.after }, ticks: [] };
    case 'cataloguing-is-disposition':
      return { fields: { isDisposition: clause.isDisposition ? 'yes' : 'no' }, ticks: [] };
    case 'grace':
      return { fields: { until: clause.until, renewalAppliedOn: clause.renewalAppliedOn ?? '' }, ticks: [] };
  }
}

export const toDraft = (clause: PermitClause, key: string): ClauseDraft => ({
  key,
  id: clause.id,
  kind: clause.kind,
  text: clause.text,
  ...fieldsOf(clause),
});

const FIRST_FIELDS: Record<string, string> = {
  taxa: 'all',
  year: 'calendar',
  rule: 'month-day',
  isDisposition: 'no',
};
const FIRST_AFTER = { 'transfer-within-days': 'found', 'record-retention': 'expiry' } as Record<
  string,
  string
>;

/** An empty clause of a kind, with the next free number. */
export function newDraft(
  kind: PermitClause['kind'],
  taken: readonly ClauseDraft[],
  key: string,
): ClauseDraft {
  const numbers = taken.map(({ id }) => Number(id)).filter((number) => Number.isInteger(number));
  const fields = Object.fromEntries(
    CLAUSE_FIELDS[kind].map((field) => [
      field,
      field === 'after' ? (FIRST_AFTER[kind] ?? '') : (FIRST_FIELDS[field] ?? ''),
    ]),
  );
  return { key, id: String(Math.max(0, ...numbers) + 1), kind, text: '', fields, ticks: [] };
}

/** A whole number as typed; what is none stays text, for the schema to refuse. */
const whole = (text: string | undefined): number | string =>
  /^-?\d+$/.test(text?.trim() ?? '') ? Number(text) : (text ?? '');

/** The clause that a draft says, unchecked: the schema of the permit has the word. */
export function fromDraft({ id, kind, text, fields, ticks }: ClauseDraft): Record<string, unknown> {
  const base = { id: id.trim(), kind, text };
  const year =
    fields.year === 'fiscal' ? { basis: 'fiscal', startsOn: fields.startsOn } : { basis: fields.year };
  const taxa = readTaxa(fields.taxa ?? '');
  switch (kind) {
    case 'taxa-allowed':
    case 'taxa-excluded':
    case 'special-authorisation':
      return { ...base, taxa };
    case 'contact-first':
      return { ...base, taxa, contact: fields.contact };
    case 'specimen-types':
      return { ...base, types: ticks };
    case 'places':
      return { ...base, places: readPlaces(fields.places ?? '') };
    case 'quota':
      return { ...base, taxa, maximum: whole(fields.maximum), year };
    case 'who-may-act':
      return { ...base, who: ticks };
    case 'tagging':
      return { ...base, fields: ticks };
    case 'transfer-within-days':
      return { ...base, days: whole(fields.days), after: fields.after };
    case 'report-due':
      return {
        ...base,
        year,
        due:
          fields.rule === 'days-after'
            ? { rule: 'days-after', days: whole(fields.days) }
            : { rule: 'month-day', monthDay: fields.monthDay },
      };
    case 'record-retention':
      return { ...base, years: whole(fields.years), after: fields.after };
    case 'cataloguing-is-disposition':
      return { ...base, isDisposition: fields.isDisposition === 'yes' };
    case 'grace':
      return { ...base, until: fields.until, renewalAppliedOn: fields.renewalAppliedOn || null };
  }
}
