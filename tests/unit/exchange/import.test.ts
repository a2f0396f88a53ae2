import { Readable } from 'node:stream';
import { describe, expect, it } from 'vitest';
import { findHeadUnit, suggestColumns } from '@/lib/exchange/columns';
import {
  type DryRunRow,
  type ImportKnowledge,
  type ImportMapping,
  runDry,
  startSummary,
} from '@/lib/exchange/dry-run';
import { writeErrorFile } from '@/lib/exchange/error-file';
import { IMPORT_FIELDS } from '@/lib/exchange/import-fields';
import { type OpenedTable, openTable, REASON_COLUMN } from '@/lib/exchange/table';
import { readMeasure, readSex, readStyle, readValue } from '@/lib/exchange/values';
import { collect } from './zip-files';

async function open(text: string | Buffer): Promise<OpenedTable> {
  const opened = await openTable({ name: 'sheet.csv', open: () => Readable.from([Buffer.from(text)]) });
  if (!opened.ok) throw new Error(opened.message);
  return opened.value;
}

describe('columns', () => {
  it.each([
    ['Cat #', 'catalogNumber'],
    ['scientificName', 'scientificName'],
    ['dwc:eventDate', 'foundOn'],
    ['http://rs.tdwg.org/dwc/terms/recordedBy', 'finder'],
    ['Common Name', 'vernacularName'],
    ['Wing chord (mm)', 'wingMm'],
    ['Wt. (g)', 'massG'],
    ['Preparator', 'preparator'],
    ['Prepartor', 'preparator'],
    ['Localty', 'locality'],
    ['Lat', 'latitude'],
    ['decimalLongitude', 'longitude'],
    ['Zodiac', null],
    ['constructor', null],
    ['__proto__', null],
    ['', null],
    [REASON_COLUMN, null],
  ])('"%s" is %s', (head, fieldId) => {
    expect(suggestColumns([head])[0]?.fieldId).toBe(fieldId);
  });

  it('suggests a field once, for the column that fits best, and puts a saved mapping first', () => {
    expect(suggestColumns(['Sexx', 'Sex']).map((suggestion) => suggestion.fieldId)).toEqual([null, 'sex']);
    expect(
      suggestColumns(['Zodiac', 'Sex'], { Zodiac: 'sex' }).map((suggestion) => suggestion.fieldId),
    ).toEqual(['sex', null]);
  });

  it('every field is found by each of its own names', () => {
    for (const field of IMPORT_FIELDS) {
      for (const alias of [...field.aliases, field.label])
        expect([alias, suggestColumns([alias])[0]?.fieldId]).toEqual([alias, field.id]);
    }
  });

  it('leaves control characters out of heads and cells: the database keeps none', async () => {
    const filler = 'x'.repeat(200);
    const table = await open(
      Buffer.from(`\ufeffnumber\u0000,taxon\nRB\u0000-1\u001f,${filler}\u0007`, 'utf16le'),
    );
    const rows: string[][] = [];
    for await (const { cells } of table.rows()) rows.push(cells);
    expect(table.header).toEqual(['number', 'taxon']);
    expect(rows).toEqual([['RB-1', filler]]);
  });

  it('finds the unit in a head', () => {
    expect(['Elevation (ft)', 'wt_kg', 'Wing [mm]', 'Wing', 'form'].map(findHeadUnit)).toEqual([
      'ft',
      'kg',
      'mm',
      null,
      null,
    ]);
  });
});

describe('values', () => {
  it.each([
    ['F', 'female'],
    ['♀', 'female'],
    ['M.', 'male'],
    ['indet.', 'undetermined'],
    ['UNK', 'undetermined'],
  ])('sex "%s" is %s', (text, sex) => expect(readSex(text)).toEqual({ ok: true, value: sex }));

  it('never decides a doubtful sex', () => {
    expect(readSex('F?')).toMatchObject({ code: 'ambiguous', readings: ['female', 'undetermined'] });
    expect(readSex('(M)?')).toMatchObject({ code: 'ambiguous', readings: ['male', 'undetermined'] });
    expect(readSex('?')).toMatchObject({ code: 'ambiguous', readings: ['undetermined'] });
    expect(readSex('x')).toMatchObject({ code: 'unreadable' });
  });

  it.each([
    ['Skin + partial skeleton', 'skin-with-partial-skeleton'],
    ['complete skeleton', 'whole-skeleton'],
    ['Spread wing', 'spread-wing-with-skin'],
    ['flat skin', 'flat-skin'],
    ['EtOH', 'fluid'],
    ['tissue only', 'tissue-only'],
  ])('preparation "%s" is %s', (text, style) => expect(readStyle(text)).toEqual({ ok: true, value: style }));

  it('asks when a preparation fits two styles', () => {
    expect(readStyle('study skin')).toMatchObject({ code: 'ambiguous' });
    expect(readStyle('partial skeleton')).toMatchObject({ code: 'ambiguous' });
    expect(readStyle('balloon')).toMatchObject({ code: 'unreadable' });
  });

  it.each([
    ['78.5', 'g', null, 78.5],
    ['78,5 g', 'g', null, 78.5],
    ['0.0785 kg', 'g', null, 78.5],
    ['1,234.5', 'g', null, 1234.5],
    ['2 oz', 'g', null, 56.69904625],
    ['9.4', 'mm', 'cm', 94],
    ['3.7 in', 'mm', null, 93.98],
    ['.5', 'g', 'kg', 500],
  ] as const)('%s for %s under %s is %d', (text, target, head, value) => {
    expect(readMeasure(text, target, head)).toEqual({ ok: true, value });
  });

  it.each([
    ['1,234', 'ambiguous'],
    ['70-75', 'unreadable'],
    ['ca 70', 'unreadable'],
    ['70 parsec', 'unreadable'],
    ['-5', 'unreadable'],
  ])('the number "%s" is refused as %s', (text, code) =>
    expect(readMeasure(text, 'mm')).toMatchObject({ code }),
  );

  it('keeps zero out, takes decisions of a person, and reads dashes as nothing', () => {
    expect(readValue('massG', '0')).toMatchObject({ code: 'out-of-range' });
    expect(readValue('sex', 'Hen', { decided: { hen: 'female' } })).toEqual({ ok: true, value: 'female' });
    expect(readValue('sex', '--')).toMatchObject({ code: 'empty' });
    expect(readValue('elevation', '590', { headUnit: 'ft' })).toEqual({ ok: true, value: '179.832' });
    expect(readValue('elevation', '590')).toMatchObject({ code: 'ambiguous' });
    expect(readValue('uncertaintyM', '30')).toEqual({ ok: true, value: '30' });
    expect(readValue('datum', 'nad 27')).toEqual({ ok: true, value: 'EPSG:4267' });
    expect(readValue('foundOn', '3/4/2020', { order: 'day-first' })).toEqual({
      ok: true,
      value: '2020-04-03',
    });
    expect(readValue('nonsense', 'x')).toMatchObject({ code: 'unreadable' });
  });
});

const SHEET = [
  'Cat,Species,Sex,Wing (mm),Found,Lat,Long,County,State,Notes',
  '1,Turdus migratorius,F,128.5,2026-03-03,41.8663,-87.64,Cook,IL,fine',
  '2,Turdus migratorius,F?,12x,03/04/2026,41.8663,87.64,Cook,IL,=1+1',
  '1,Turdus migratorius,M,130,4 March 2026,,,,,same number',
  '9,Turdus migratorius,M,130,4 March 2026,,,,,known already',
  '3,Ghostus nullus,M,130,4 March 2026,41.8,,,,no such bird',
  '4,,,,,,,,,nothing',
  '5,Turdus migratorius,M,130,4 March 2026,,,,,too,many',
].join('\n');

const knowledge: ImportKnowledge = {
  findExisting: async (_, numbers) => new Set(numbers.filter((number) => number === '9')),
  findTaxa: async (names) =>
    new Map(names.map((name) => [name, name === 'Turdus migratorius' ? name : null])),
};

function mappingOf(table: OpenedTable, more: Partial<ImportMapping> = {}): ImportMapping {
  const fields = suggestColumns(table.header).flatMap(({ index, fieldId }) =>
    fieldId ? [[index, fieldId]] : [],
  );
  return { fields: Object.fromEntries(fields), ...more };
}

async function dry(table: OpenedTable, mapping: ImportMapping): Promise<DryRunRow[]> {
  const rows: DryRunRow[] = [];
  for await (const row of runDry(table, mapping, knowledge)) rows.push(row);
  return rows;
}

describe('dry run', () => {
  it('takes what is right, and says for the rest what is wrong and where', async () => {
    const table = await open(SHEET);
    const rows = await dry(table, mappingOf(table));
    expect(rows.map((row) => [row.line, row.errors.map((error) => error.fieldId)])).toEqual([
      [2, []],
      [3, ['sex', 'wingMm', 'foundOn']],
      [4, ['catalogNumber']],
      [5, ['catalogNumber']],
      [6, ['latitude', 'scientificName']],
      [7, ['scientificName']],
      [8, [null]],
    ]);
    expect(rows[0]?.values).toMatchObject({
      catalogNumber: '1',
      sex: 'female',
      wingMm: '128.5',
      foundOn: '2026-03-03',
      latitude: '41.8663',
    });
    expect(rows[1]?.errors[2]).toMatchObject({
      column: 'Found',
      value: '03/04/2026',
      readings: ['2026-04-03', '2026-03-04'],
    });
    expect(rows[1]?.warnings.map((warning) => warning.reason).join(' ')).toMatch(/formula.*China/s);
    expect(rows[2]?.errors[0]?.reason).toContain('line 2');
  });

  it('counts as it goes', async () => {
    const table = await open(SHEET);
    const summary = startSummary();
    for (const row of await dry(table, mappingOf(table, { dateOrder: 'month-first' }))) summary.add(row);
    expect(summary.read()).toMatchObject({ rows: 7, ready: 1, withErrors: 6, withWarnings: 1 });
    expect(summary.read().reasons.length).toBeGreaterThan(3);
  });

  it('writes the rest as a file that loads again once it is corrected, formulas as text', async () => {
    const table = await open(SHEET);
    const rows = await dry(table, mappingOf(table));
    const { out, bytes } = collect();
    const count = await writeErrorFile(
      (async function* () {
        yield* rows;
      })(),
      table.header,
      out,
    );
    expect(count).toBe(6);
    const text = (await bytes).toString('utf8');
    expect(text).toContain("'=1+1");
    const again = await open(text);
    expect(again.header).toEqual([...table.header, REASON_COLUMN]);
    const corrected = await open(
      text.replaceAll('F?', 'F').replaceAll('12x', '127').replaceAll('03/04/2026', '2026-04-03'),
    );
    const second = await dry(corrected, mappingOf(corrected));
    expect(second[0]).toMatchObject({
      errors: [],
      values: { sex: 'female', wingMm: '127', remarks: '=1+1' },
    });
    expect(Object.values(mappingOf(corrected).fields)).toEqual(Object.values(mappingOf(table).fields));
  });

  it('asks for known numbers and names in batches, not row by row', async () => {
    const many = await open(
      `Cat,Species\n${Array.from({ length: 1200 }, (_, index) => `${index},Turdus migratorius`).join('\n')}`,
    );
    let asked = 0;
    const counting: ImportKnowledge = {
      ...knowledge,
      findTaxa: (names) => {
        asked += 1;
        return knowledge.findTaxa(names);
      },
    };
    let ready = 0;
    for await (const row of runDry(many, mappingOf(many), counting)) if (row.errors.length === 0) ready += 1;
    expect([asked, ready]).toEqual([3, 1199]);
  });
});
