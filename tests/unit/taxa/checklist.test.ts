import { Readable } from 'node:stream';
import { describe, expect, it } from 'vitest';
import {
  type ChecklistRow,
  type ChecklistTaxon,
  matchTaxonColumns,
  readChecklist,
} from '@/lib/taxa/checklist';
import { diffChecklists } from '@/lib/taxa/checklist-diff';

async function read(text: string, delimiter?: ',' | '\t'): Promise<ChecklistRow[]> {
  const rows: ChecklistRow[] = [];
  for await (const row of readChecklist(Readable.from([Buffer.from(text)]), delimiter)) rows.push(row);
  return rows;
}

async function taxa(text: string): Promise<ChecklistTaxon[]> {
  return (await read(text)).flatMap((row) => (row.ok ? [row.taxon] : []));
}

describe('reading a checklist', () => {
  it('takes Darwin Core names, with prefix or IRI, in any order', () => {
    expect(
      matchTaxonColumns(['dwc:taxonRank', 'http://rs.tdwg.org/dwc/terms/scientificName', 'notes']),
    ).toEqual({
      rank: 0,
      scientificName: 1,
    });
  });

  it('reads accepted names and synonyms, flags and ranks, and says which lines it cannot use', async () => {
    const rows = await read(
      [
        '# our list',
        'taxonID,scientificName,taxonRank,taxonomicStatus,acceptedNameUsage,sensitive',
        '1,Bubo scandiacus,Species,accepted,,true',
        '2,Nyctea scandiaca,species,synonym,Bubo scandiacus,',
        '3,,species,accepted,,',
        '2,Strix varia,species,accepted,,',
        '4,Strix alba,species,synonym,,',
      ].join('\n'),
    );
    expect(
      rows.map((row) =>
        row.ok ? [row.taxon.scientificName, row.taxon.status, row.taxon.sensitive] : row.reason,
      ),
    ).toEqual([
      ['Bubo scandiacus', 'accepted', true],
      ['Nyctea scandiaca', 'synonym', false],
      'The row has no scientific name.',
      'The identifier 2 is already used by another row.',
      'The synonym does not say which name is accepted.',
    ]);
    expect(rows[0]).toMatchObject({ taxon: { rank: 'species', line: 3 } });
  });

  it('reads tab-separated text and quoted commas, and guesses the rank from the name', async () => {
    const [row] = await read(
      'scientificName\tscientificNameAuthorship\nTurdus migratorius propinquus\t"Ridgway, 1877"\n',
      '\t',
    );
    expect(row).toMatchObject({ taxon: { rank: 'subspecies', authorship: 'Ridgway, 1877' } });
  });

  it('refuses a file without names', async () => {
    await expect(read('a,b\n1,2\n')).rejects.toThrow('scientificName');
    await expect(read('')).rejects.toThrow('empty');
  });
});

describe('what changed between two checklists', () => {
  const header = 'taxonID,scientificName,taxonRank,taxonomicStatus,acceptedNameUsage,family';
  const before = [
    header,
    'a,Turdus migratorius,species,accepted,,Turdidae',
    'b,Accipiter cooperii,species,accepted,,Accipitridae',
    'c,Larus argentatus,species,accepted,,Laridae',
    'c1,Larus argentatus argentatus,subspecies,accepted,,Laridae',
    'c2,Larus argentatus smithsonianus,subspecies,accepted,,Laridae',
    'd,Acanthis hornemanni,species,accepted,,Fringillidae',
    'e,Acanthis flammea,species,accepted,,Fringillidae',
    'f,Dendroica striata,species,accepted,,Parulidae',
    'g,Ghostus nullus,species,accepted,,Turdidae',
    'h,Oporornis formosus,species,accepted,,Parulidae',
    'i,Junco aikeni,species,accepted,,Passerellidae',
    'j,Junco hyemalis,species,accepted,,Passerellidae',
  ].join('\n');
  const after = [
    header,
    'a,Turdus migratorius,species,accepted,,Turdidae',
    'b,Astur cooperii,species,accepted,,Accipitridae',
    'c,Larus argentatus,species,accepted,,Laridae',
    'c9,Larus smithsonianus,species,accepted,,Laridae',
    'e,Acanthis flammea,species,accepted,,Fringillidae',
    'e1,Acanthis flammea hornemanni,subspecies,accepted,,Fringillidae',
    'f9,Setophaga striata,species,accepted,,Parulidae',
    'f8,Dendroica striata,species,synonym,Setophaga striata,Parulidae',
    'h9,Geothlypis formosa,species,accepted,,Parulidae',
    'j,Junco hyemalis,species,accepted,,Passerellidae',
    'i9,Junco aikeni,species,synonym,Junco hyemalis,Passerellidae',
    'z,Corvus novus,species,accepted,,Corvidae',
  ].join('\n');

  it('tells same, renamed, split, lumped and missing apart and asks a person where birds could be misplaced', async () => {
    const diff = diffChecklists(await taxa(before), await taxa(after));
    expect(
      diff.changes.map((change) => [
        change.oldName,
        change.kind,
        change.newNames.join(' + '),
        change.asksPerson,
      ]),
    ).toEqual([
      ['Turdus migratorius', 'same', 'Turdus migratorius', false],
      ['Accipiter cooperii', 'renamed', 'Astur cooperii', false],
      ['Larus argentatus', 'split', 'Larus argentatus + Larus smithsonianus', true],
      ['Acanthis hornemanni', 'lumped', 'Acanthis flammea', true],
      ['Acanthis flammea', 'same', 'Acanthis flammea', false],
      ['Dendroica striata', 'renamed', 'Setophaga striata', false],
      ['Ghostus nullus', 'missing', '', true],
      ['Oporornis formosus', 'renamed', 'Geothlypis formosa', true],
      ['Junco aikeni', 'lumped', 'Junco hyemalis', true],
      ['Junco hyemalis', 'same', 'Junco hyemalis', false],
    ]);
    expect(diff.added).toEqual(['Corvus novus']);
  });

  it('a list compared with itself has changed nothing', async () => {
    const diff = diffChecklists(await taxa(before), await taxa(before));
    expect(diff.changes.every((change) => change.kind === 'same')).toBe(true);
    expect(diff.added).toEqual([]);
  });
});
