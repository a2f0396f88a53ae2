import { describe, expect, it } from 'vitest';
import { joinChecklist } from '@/lib/permits/rules/join-checklist';
import { findOverdueReports } from '@/lib/permits/rules/overdue';
import { type ListedTaxon, toTaxonFact } from '@/lib/permits/rules/taxon-fact';
import { makePermit } from './build';

const reporting = (changes: Record<string, unknown> = {}) =>
  makePermit({
    effectiveOn: '2023-01-01',
    expiresOn: '2025-12-31',
    clauses: [
      {
        id: 'r',
        kind: 'report-due',
        year: { basis: 'calendar' },
        due: { rule: 'month-day', monthDay: '01-31' },
      },
    ],
    ...changes,
  });
const filed = (year: number) => ({ fromOn: `${year}-01-01`, untilOn: `${year}-12-31` });

describe('overdue reports', () => {
  it.each([
    ['on the due day', '2025-01-31', '2023-01-01', [filed(2023)], []],
    ['the day after', '2025-02-01', '2023-01-01', [filed(2023)], ['2025-01-31']],
    ['two missing', '2025-02-01', '2023-01-01', [], ['2024-01-31', '2025-01-31']],
    ['signed', '2025-02-01', '2023-01-01', [filed(2023), filed(2024)], []],
    ['years before the permit was entered here', '2025-02-01', '2024-06-01', [], ['2025-01-31']],
    [
      'the last year of an ended permit',
      '2026-02-01',
      '2023-01-01',
      [filed(2023), filed(2024)],
      ['2026-01-31'],
    ],
    ['years after it ended', '2028-02-01', '2023-01-01', [filed(2023), filed(2024), filed(2025)], []],
  ])('%s', (_, today, enteredOn, signed, due) => {
    expect(findOverdueReports(reporting(), today, enteredOn, signed).map(({ dueOn }) => dueOn)).toEqual(due);
  });

  it('a permit without a report clause owes none', () => {
    expect(findOverdueReports(reporting({ clauses: [] }), '2030-01-01', '2023-01-01', [])).toEqual([]);
  });
});

const row = (scientificName: string, changes: Partial<ListedTaxon> = {}): ListedTaxon => ({
  scientificName,
  rank: 'species',
  genus: null,
  familyName: null,
  orderName: null,
  synonyms: [],
  accepted: null,
  ...changes,
});

describe('the identification that is judged', () => {
  it('nobody could name it: any bird', () => {
    expect(toTaxonFact(null)).toMatchObject({ name: 'Aves', rank: 'class' });
    expect(toTaxonFact(null, ['Larus argentatus']).mayBe).toEqual(['Larus argentatus']);
  });

  it('carries synonyms both ways, and the genus of its name', () => {
    const renamed = row('Astur atricapillus', { synonyms: [{ scientificName: 'Accipiter atricapillus' }] });
    expect(toTaxonFact(renamed)).toMatchObject({ genus: 'Astur', synonyms: ['Accipiter atricapillus'] });
    const synonym = row('Accipiter atricapillus', { accepted: { scientificName: 'Astur atricapillus' } });
    expect(toTaxonFact(synonym).synonyms).toEqual(['Astur atricapillus']);
  });

  it.each([
    ['Larus', 'genus', 'genus'],
    ['Laridae', 'family', 'family'],
    ['Aves incertae', 'form', 'species'],
    ['Aves', 'form', 'class'],
  ])('%s of rank %s is judged as %s', (name, rank, judged) => {
    expect(toTaxonFact(row(name, { rank })).rank).toBe(judged);
  });
});

describe('joining a list with the checklist', () => {
  const entry = (name: string, englishName: string | null = null) => ({
    name,
    englishName,
    acceptedName: null,
    match: 'not-tried' as const,
    family: null,
    order: null,
  });
  const taxon = (scientificName: string, commonName: string | null, accepted: string | null = null) => ({
    scientificName,
    commonName,
    familyName: 'Familidae',
    orderName: 'Ordiformes',
    accepted: accepted === null ? null : { scientificName: accepted },
  });
  const checklist = [
    taxon('Turdus migratorius', 'American Robin'),
    taxon('Dendroica coronata', null, 'Setophaga coronata'),
    taxon('Novus namus', 'Gray Thing'),
  ];

  it('by name, by synonym, by English name, or not at all', () => {
    const joined = joinChecklist(
      [
        entry('Turdus  Migratorius'),
        entry('Dendroica coronata'),
        entry('Oldus namus', 'Gray Thing'),
        entry('Nemo nemo'),
      ],
      checklist,
    );
    expect(joined.map(({ match, acceptedName }) => [match, acceptedName])).toEqual([
      ['exact-name', 'Turdus migratorius'],
      ['exact-name', 'Setophaga coronata'],
      ['english-name', 'Novus namus'],
      ['none', null],
    ]);
    expect(joined[0]).toMatchObject({ family: 'Familidae', order: 'Ordiformes' });
  });

  it('leaves what the file matched itself, and tries nothing without a checklist', () => {
    const matched = {
      ...entry('Turdus migratorius'),
      match: 'english-name' as const,
      acceptedName: 'Turdus migratorius',
    };
    expect(joinChecklist([matched], checklist)[0]).toMatchObject({
      match: 'english-name',
      family: 'Familidae',
    });
    expect(joinChecklist([entry('Nemo nemo')], [])[0]?.match).toBe('not-tried');
  });
});
