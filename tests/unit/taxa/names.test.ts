import { describe, expect, it } from 'vitest';
import { parseScientificName } from '@/lib/taxa/names';

describe('scientific names as written', () => {
  it.each([
    ['Turdus migratorius', 'Turdus migratorius', null, null],
    ['Turdus migratorius Linnaeus, 1766', 'Turdus migratorius', 'Linnaeus, 1766', null],
    ['Setophaga coronata coronata (Linnaeus, 1766)', 'Setophaga coronata coronata', '(Linnaeus, 1766)', null],
    ['Turdus migratorius ssp. propinquus', 'Turdus migratorius propinquus', null, null],
    ['Passerella iliaca subsp. zaboria Oberholser', 'Passerella iliaca zaboria', 'Oberholser', null],
    ['Larus cf. argentatus', 'Larus argentatus', null, 'cf.'],
    ['cf. Larus argentatus', 'Larus argentatus', null, 'cf.'],
    ['Larus aff. fuscus', 'Larus fuscus', null, 'aff.'],
    ['Larus smithsonianus?', 'Larus smithsonianus', null, '?'],
    ['Larus? smithsonianus', 'Larus smithsonianus', null, '?'],
    ['Buteo (Buteo) jamaicensis', 'Buteo jamaicensis', null, null],
    ['Spinus tristis (L.)', 'Spinus tristis', '(L.)', null],
    ['Anas acuta de Vis, 1905', 'Anas acuta', 'de Vis, 1905', null],
    ['turdus migratorius', null, null, null],
    ['robin', null, null, null],
    ['Turdus migratorius 12', null, null, null],
    ['', null, null, null],
  ])('%s', (verbatim, canonical, authorship, qualifier) => {
    expect(parseScientificName(verbatim)).toMatchObject({ verbatim, canonical, authorship, qualifier });
  });

  it('keeps genus, subgenus and epithets apart', () => {
    expect(parseScientificName('Buteo (Buteo) jamaicensis calurus Cassin, 1855')).toMatchObject({
      genus: 'Buteo',
      subgenus: 'Buteo',
      specificEpithet: 'jamaicensis',
      infraspecificEpithet: 'calurus',
      rank: 'subspecies',
      authorship: 'Cassin, 1855',
    });
  });

  it('knows "sp." for a genus only, and names above the genus', () => {
    expect(parseScientificName('Empidonax sp.')).toMatchObject({
      kind: 'indeterminate',
      canonical: 'Empidonax',
      rank: 'genus',
      qualifier: 'sp.',
    });
    expect(parseScientificName('Laridae')).toMatchObject({
      kind: 'name',
      genus: null,
      canonical: 'Laridae',
      rank: 'above genus',
    });
    expect(parseScientificName('Junco hyemalis ssp.')).toMatchObject({
      kind: 'name',
      canonical: 'Junco hyemalis',
      qualifier: 'ssp.',
    });
  });

  it.each([
    ['Larus argentatus × Larus marinus', ['Larus argentatus', 'Larus marinus']],
    ['Anas platyrhynchos x rubripes', ['Anas platyrhynchos', 'Anas rubripes']],
    ['Anas platyrhynchos X A. rubripes', ['Anas platyrhynchos', 'Anas rubripes']],
  ])('hybrid %s', (verbatim, members) => {
    const name = parseScientificName(verbatim);
    expect(name.kind).toBe('hybrid');
    expect(name.members.map((member) => member.canonical)).toEqual(members);
    expect(name.canonical).toBe(members.join(' × '));
  });

  it('two candidates are not one name', () => {
    const name = parseScientificName('Empidonax traillii/alnorum');
    expect(name).toMatchObject({ kind: 'alternatives', genus: 'Empidonax', specificEpithet: null });
    expect(name.members.map((member) => member.canonical)).toEqual([
      'Empidonax traillii',
      'Empidonax alnorum',
    ]);
  });
});
