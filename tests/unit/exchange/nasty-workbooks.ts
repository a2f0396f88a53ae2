import { deflateRawSync } from 'node:zlib';
import { CSV, type NastyFile } from './nasty-file';
import { cell, workbookOf, zipOf } from './workbook-builder';

/** A zip whose entry says it unpacks to a hundred bytes but gives many more. */
function lyingZip(content: Buffer): Buffer {
  const [name, data] = [Buffer.from('xl/workbook.xml'), deflateRawSync(content)];
  const local = Buffer.alloc(30);
  local.writeUInt32LE(0x04034b50, 0);
  local.writeUInt16LE(20, 4);
  local.writeUInt16LE(8, 8);
  local.writeUInt32LE(data.length, 18);
  local.writeUInt32LE(100, 22);
  local.writeUInt16LE(name.length, 26);
  const central = Buffer.alloc(46);
  central.writeUInt32LE(0x02014b50, 0);
  central.writeUInt16LE(20, 4);
  central.writeUInt16LE(20, 6);
  central.writeUInt16LE(8, 10);
  central.writeUInt32LE(data.length, 20);
  central.writeUInt32LE(100, 24);
  central.writeUInt16LE(name.length, 28);
  const body = Buffer.concat([local, name, data]);
  const end = Buffer.alloc(22);
  end.writeUInt32LE(0x06054b50, 0);
  end.writeUInt16LE(1, 8);
  end.writeUInt16LE(1, 10);
  end.writeUInt32LE(central.length + name.length, 12);
  end.writeUInt32LE(body.length, 16);
  return Buffer.concat([body, central, name, end]);
}

export async function workbooks(): Promise<NastyFile[]> {
  const head = cell('A1', 'Species') + cell('B1', 'Found');
  const bird = (row: number, found: string) => cell(`A${row}`, 'Parus major') + found;
  const header = ['Species', 'Found'];
  const good1900 = { header, rows: [['Parus major', '2023-03-15']] };
  return [
    {
      name: 'workbook',
      bytes: await workbookOf({ rows: [head, bird(2, cell('B2', 45_000, 'date'))] }),
      outcome: good1900,
    },
    {
      name: 'workbook, date with time',
      bytes: await workbookOf({ rows: [head, bird(2, cell('B2', 45_000.75, 'date'))] }),
      outcome: { header, rows: [['Parus major', '2023-03-15T18:00']] },
    },
    {
      name: 'workbook, days from 1904',
      bytes: await workbookOf({
        rows: [head, bird(2, cell('B2', 43_538, 'date'))],
        bookProperties: '<workbookPr date1904="1"/>',
      }),
      outcome: { ...good1900, note: '1904' },
    },
    {
      name: 'workbook, date as plain number',
      bytes: await workbookOf({ rows: [head, bird(2, cell('B2', 45_000))] }),
      outcome: { header, rows: [['Parus major', '45000']] },
    },
    {
      name: 'workbook, date as text',
      bytes: await workbookOf({ rows: [head, bird(2, cell('B2', '03/04/2020'))] }),
      outcome: { header, rows: [['Parus major', '03/04/2020']] },
    },
    {
      name: 'workbook, formula with its last value',
      bytes: await workbookOf({ rows: [head, bird(2, '<c r="B2"><f>1+1</f><v>2</v></c>')] }),
      outcome: { header, rows: [['Parus major', '2']], note: '1 cells are formulas' },
    },
    {
      name: 'workbook, formula never computed',
      bytes: await workbookOf({
        rows: [head, bird(2, '<c r="B2"><f>WEBSERVICE("http://example.org")</f></c>')],
      }),
      outcome: { header, rows: [['Parus major', '']], note: 'formulas' },
    },
    {
      name: 'workbook, error in a cell',
      bytes: await workbookOf({ rows: [head, bird(2, '<c r="B2" t="e"><v>#REF!</v></c>')] }),
      outcome: { header, rows: [['Parus major', '']], note: '#REF!' },
    },
    {
      name: 'workbook, merged cells',
      bytes: await workbookOf({
        rows: [head, bird(2, cell('B2', 'May')), cell('B3', 'June')],
        afterRows: '<mergeCells count="1"><mergeCell ref="A2:A3"/></mergeCells>',
      }),
      outcome: {
        header,
        rows: [
          ['Parus major', 'May'],
          ['', 'June'],
        ],
        note: 'merged',
      },
    },
    {
      name: 'workbook, gaps between rows',
      bytes: await workbookOf({ rows: [head, '', '', bird(4, cell('B4', 'May'))] }),
      outcome: { header, rows: [['Parus major', 'May']] },
    },
    {
      name: 'workbook, true and false',
      bytes: await workbookOf({ rows: [head, bird(2, '<c r="B2" t="b"><v>1</v></c>')] }),
      outcome: { header, rows: [['Parus major', 'true']] },
    },
    {
      name: 'workbook, macros',
      bytes: await workbookOf({
        rows: [head, bird(2, cell('B2', 'May'))],
        extra: { 'xl/vbaProject.bin': 'x' },
      }),
      outcome: { header, rows: [['Parus major', 'May']], note: 'macros' },
    },
    {
      name: 'workbook, text like a formula',
      bytes: await workbookOf({ rows: [head, bird(2, cell('B2', '=1+1'))] }),
      outcome: { header, rows: [['Parus major', '=1+1']] },
    },
    {
      name: 'workbook, 200 columns',
      bytes: await workbookOf({
        rows: [1, 2].map((row) =>
          Array.from({ length: 200 }, (_, index) => cell(`${columnName(index)}${row}`, `C${index}`)).join(''),
        ),
      }),
      outcome: {
        header: Array.from({ length: 200 }, (_, index) => `C${index}`),
        rows: [Array.from({ length: 200 }, (_, index) => `C${index}`)],
      },
    },
    { name: 'workbook, empty sheet', bytes: await workbookOf({ rows: [] }), outcome: { refused: 'empty' } },
    {
      name: 'workbook without its sheet',
      bytes: await workbookOf({ rows: [head], leaveOut: ['xl/worksheets/sheet1.xml'] }),
      outcome: { refused: 'unreadable' },
    },
    {
      name: 'workbook, broken XML',
      bytes: await workbookOf({ rows: [head, '<c r="A2"><v>1</c></v'] }),
      outcome: { refused: 'unreadable' },
    },
    {
      name: 'zip of something else',
      bytes: await zipOf({ 'birds.csv': CSV }),
      outcome: { refused: 'unreadable', saying: 'no workbook' },
    },
    {
      name: 'zip bomb, honest',
      bytes: await workbookOf({ rows: [head], extra: { 'xl/media/big.bin': '0'.repeat(3_000_000) } }),
      limits: { unpackedBytes: 1_000_000 },
      outcome: { refused: 'out-of-range', saying: 'Unpacked' },
    },
    {
      name: 'zip bomb, many parts',
      bytes: await workbookOf({
        rows: [head],
        extra: Object.fromEntries(Array.from({ length: 300 }, (_, index) => [`x/${index}`, ''])),
      }),
      limits: { parts: 100 },
      outcome: { refused: 'out-of-range', saying: 'parts' },
    },
    {
      name: 'zip bomb, lying about its size',
      bytes: lyingZip(Buffer.alloc(2_000_000, 48)),
      limits: { unpackedBytes: 1_000_000 },
      outcome: { refused: 'unreadable', saying: 'damaged' },
    },
    {
      name: 'entity bomb',
      bytes: await workbookOf({ rows: [head], extra: { 'xl/worksheets/sheet1.xml': entityBomb() } }),
      outcome: { refused: 'empty' },
    },
  ];
}

function columnName(index: number): string {
  const letter = (value: number) => String.fromCharCode(65 + value);
  return index < 26 ? letter(index) : letter(Math.floor(index / 26) - 1) + letter(index % 26);
}

/** Entities that would grow a thousandfold if they were expanded. */
function entityBomb(): string {
  const entities = ['a', 'b', 'c'].map(
    (name, level) => `<!ENTITY ${name} "${level === 0 ? 'x' : `&${'abc'[level - 1]};`.repeat(10)}">`,
  );
  return `<?xml version="1.0"?><!DOCTYPE worksheet [${entities.join('')}]><worksheet xmlns="http://schemas.openxmlformats.org/spreadsheetml/2006/main"><sheetData></sheetData></worksheet>`;
}
