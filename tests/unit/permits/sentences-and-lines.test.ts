import { describe, expect, it } from 'vitest';
import { fromDraft, newDraft, toDraft } from '@/components/permits/clause-drafts';
import { type PermitClause, permitClause } from '@/lib/permits/permit-schema';
import { clauseKinds, nameClause, sayClause } from '@/lib/permits/rules/sentences';
import { readPlaces, readTaxa, writePlaces, writeTaxa } from '@/lib/permits/rules/written-lines';

/** One clause of each kind, written as a form would send it. */
const CLAUSES: Record<PermitClause['kind'], Record<string, unknown>> = {
  'taxa-allowed': { taxa: [{ by: 'all' }] },
  'taxa-excluded': {
    taxa: [
      { by: 'family', name: 'Turdidae' },
      { by: 'name', name: 'Corvus corax' },
    ],
  },
  'contact-first': { taxa: [{ by: 'list', listId: 'us-17.11' }], contact: 'the issuing office' },
  'special-authorisation': { taxa: [{ by: 'genus', name: 'Aquila' }] },
  'specimen-types': { types: ['whole-bird', 'feathers', 'egg'] },
  places: { places: [{ within: 'US-OH', counties: ['Franklin', 'Delaware'] }, { within: 'US-IN' }] },
  quota: {
    taxa: [{ by: 'order', name: 'Strigiformes' }],
    maximum: 5,
    year: { basis: 'fiscal', startsOn: '07-01' },
  },
  'who-may-act': { who: ['holder', 'sub-permittees'] },
  tagging: { fields: ['species', 'salvager-name'] },
  'transfer-within-days': { days: 1, after: 'found' },
  'report-due': { year: { basis: 'calendar' }, due: { rule: 'month-day', monthDay: '01-31' } },
  'record-retention': { years: 5, after: 'expiry' },
  'cataloguing-is-disposition': { isDisposition: true },
  grace: { until: '2025-03-31', renewalAppliedOn: '2024-12-01' },
};
const all = clauseKinds.map((kind, index) =>
  permitClause.parse({ id: String(index + 1), kind, text: 'Words.', ...CLAUSES[kind] }),
);

describe('a clause', () => {
  it.each([
    ['taxa-excluded', 'Excludes the family Turdidae and Corvus corax.'],
    ['contact-first', 'Before the names on list us-17.11: contact the issuing office first.'],
    ['specimen-types', 'Covers whole birds, feathers and eggs.'],
    ['places', 'Holds in Franklin and Delaware (US-OH) and US-IN.'],
    ['quota', 'At most 5 of the order Strigiformes in a year beginning on 07-01.'],
    ['transfer-within-days', 'Handed over within 1 day of finding.'],
    ['report-due', 'Report for each calendar year, due by 01-31 after it.'],
    ['record-retention', 'Records are kept for 5 years after the permit expires.'],
  ])('%s reads as a sentence', (kind, sentence) => {
    const clause = all.find((one) => one.kind === kind);
    expect(clause && sayClause(clause)).toBe(sentence);
  });

  it.each(all.map((clause) => [clause.kind, clause] as const))(
    '%s has a name and a whole sentence',
    (kind, clause) => {
      expect(nameClause(kind)).not.toBe('');
      expect(sayClause(clause)).toMatch(/^[A-Z].*\.$/);
      expect(sayClause(clause)).not.toMatch(/undefined|\[object/);
    },
  );

  it.each(all.map((clause) => [clause.kind, clause] as const))(
    '%s comes through the form unchanged',
    (_, clause) => {
      expect(permitClause.parse(fromDraft(toDraft(clause, 'k')))).toEqual(clause);
    },
  );

  it('of a new kind takes the next free number, and what is no number is refused by the schema', () => {
    const draft = newDraft('quota', [toDraft({ ...all[0], id: '7' } as PermitClause, 'k')], 'n');
    expect(draft.id).toBe('8');
    const typed = (maximum: string) =>
      permitClause.safeParse(fromDraft({ ...draft, fields: { ...draft.fields, maximum } }));
    expect(typed('3').success).toBe(true);
    expect(typed('-1').error?.issues[0]?.message).toBe('a quota cannot be below 0');
    expect(typed('three').success).toBe(false);
    expect(typed('').success).toBe(false);
  });
});

describe('taxa and places in lines', () => {
  it('are read as they are written', () => {
    const text = 'all\nfamily: Turdidae\nlist: us-10.13\nTurdus migratorius';
    expect(readTaxa(`${text}\n\n  `)).toEqual([
      { by: 'all' },
      { by: 'family', name: 'Turdidae' },
      { by: 'list', listId: 'us-10.13' },
      { by: 'name', name: 'Turdus migratorius' },
    ]);
    expect(writeTaxa(readTaxa(text))).toBe(text);
    const places = 'US-OH: Franklin, Delaware\nCA-ON';
    expect(writePlaces(readPlaces(places))).toBe(places);
    expect(readPlaces('us-oh')).toEqual([{ within: 'US-OH' }]);
  });
});
