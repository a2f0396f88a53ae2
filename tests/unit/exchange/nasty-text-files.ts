import { gzipSync } from 'node:zlib';
import { BIRD, CSV, HEAD, type NastyFile } from './nasty-file';

const good = { header: HEAD, rows: [BIRD] };
const utf8 = (text: string) => Buffer.from(text, 'utf8');
const utf16be = (text: string) => Buffer.from(text, 'utf16le').swap16();
const mark = (...bytes: number[]) => Buffer.from(bytes);

export function textFiles(): NastyFile[] {
  const wide = Array.from({ length: 200 }, (_, index) => `C${index + 1}`);
  return [
    { name: 'plain', bytes: utf8(CSV), outcome: { ...good, encoding: 'utf-8', delimiter: ',' } },
    { name: 'UTF-8 mark', bytes: Buffer.concat([mark(0xef, 0xbb, 0xbf), utf8(CSV)]), outcome: good },
    {
      name: 'UTF-16 little end, mark',
      bytes: Buffer.concat([mark(0xff, 0xfe), Buffer.from(CSV, 'utf16le')]),
      outcome: { ...good, encoding: 'utf-16le' },
    },
    {
      name: 'UTF-16 big end, mark',
      bytes: Buffer.concat([mark(0xfe, 0xff), utf16be(CSV)]),
      outcome: { ...good, encoding: 'utf-16be' },
    },
    {
      name: 'UTF-16 little end, no mark',
      bytes: Buffer.from(CSV, 'utf16le'),
      outcome: { ...good, encoding: 'utf-16le' },
    },
    { name: 'UTF-16 big end, no mark', bytes: utf16be(CSV), outcome: { ...good, encoding: 'utf-16be' } },
    {
      name: 'Latin-1',
      bytes: Buffer.from('Species,Place\nParus major,Köln\n', 'latin1'),
      outcome: { header: ['Species', 'Place'], rows: [['Parus major', 'Köln']], encoding: 'windows-1252' },
    },
    {
      name: 'Windows quotes',
      bytes: Buffer.concat([
        utf8('Species,Place\nParus major,'),
        mark(0x93),
        utf8('Bridge'),
        mark(0x94),
        utf8('\n'),
      ]),
      outcome: {
        header: ['Species', 'Place'],
        rows: [['Parus major', '“Bridge”']],
        encoding: 'windows-1252',
      },
    },
    {
      name: 'one bad byte far down',
      bytes: Buffer.concat([
        utf8(`Species,Place\n${'Parus major,é\n'.repeat(30_000)}Parus major,`),
        mark(0xe9),
        utf8('\n'),
      ]),
      limits: { rows: 1 },
      outcome: {
        header: ['Species', 'Place'],
        rows: [
          ['Parus major', 'Ã©'],
          ['', ''],
        ],
        problems: 1,
        encoding: 'windows-1252',
      },
    },
    {
      name: 'a letter cut by a chunk',
      bytes: utf8(`Species,Place\nParus major,${'x'.repeat(65_522)}é\n`),
      outcome: {
        header: ['Species', 'Place'],
        rows: [['Parus major', `${'x'.repeat(65_522)}é`]],
        encoding: 'utf-8',
      },
    },
    {
      name: 'male and female signs',
      bytes: utf8('Species,Sex\nParus major,♀\nParus major,♂\n'),
      outcome: {
        header: ['Species', 'Sex'],
        rows: [
          ['Parus major', '♀'],
          ['Parus major', '♂'],
        ],
      },
    },
    {
      name: 'semicolons',
      bytes: utf8('Species;Sex;Wing\nTurdus migratorius;F;128,5\n'),
      outcome: { header: HEAD, rows: [['Turdus migratorius', 'F', '128,5']], delimiter: ';' },
    },
    { name: 'tabs', bytes: utf8(CSV.replaceAll(',', '\t')), outcome: { ...good, delimiter: '\t' } },
    { name: 'bars', bytes: utf8(CSV.replaceAll(',', '|')), outcome: { ...good, delimiter: '|' } },
    {
      name: 'tabs with commas in every text',
      bytes: utf8('Species\tPlace\nParus major\tKöln, bridge, north\nParus ater\tBonn, park, south\n'),
      outcome: {
        header: ['Species', 'Place'],
        rows: [
          ['Parus major', 'Köln, bridge, north'],
          ['Parus ater', 'Bonn, park, south'],
        ],
        delimiter: '\t',
      },
    },
    {
      name: 'semicolons in quotes do not divide',
      bytes: utf8('Species,Place\nParus major,"a;b;c;d"\n'),
      outcome: { header: ['Species', 'Place'], rows: [['Parus major', 'a;b;c;d']], delimiter: ',' },
    },
    {
      name: 'one column',
      bytes: utf8('Species\nParus major\nParus ater\n'),
      outcome: { header: ['Species'], rows: [['Parus major'], ['Parus ater']] },
    },
    { name: 'CRLF', bytes: utf8(CSV.replaceAll('\n', '\r\n')), outcome: good },
    { name: 'CR only', bytes: utf8(CSV.replaceAll('\n', '\r')), outcome: good },
    { name: 'no end of line at the end', bytes: utf8(CSV.trimEnd()), outcome: good },
    {
      name: 'line breaks in quotes',
      bytes: utf8('Species,Notes\nParus major,"found\nby the ""door"""\nParus ater,x\n'),
      outcome: {
        header: ['Species', 'Notes'],
        rows: [
          ['Parus major', 'found\nby the "door"'],
          ['Parus ater', 'x'],
        ],
      },
    },
    {
      name: 'inches in an unquoted text',
      bytes: utf8('Species,Notes\nParus major,5" long\nParus ater,x\n'),
      outcome: {
        header: ['Species', 'Notes'],
        rows: [
          ['Parus major', '5" long'],
          ['Parus ater', 'x'],
        ],
      },
    },
    {
      name: 'quote never closed',
      bytes: utf8('Species,Notes\nParus major,x\nParus ater,"open\nParus cristatus,y\n'),
      outcome: {
        header: ['Species', 'Notes'],
        rows: [
          ['Parus major', 'x'],
          ['', ''],
        ],
        problems: 1,
      },
    },
    {
      name: 'quote never closed in a huge file',
      bytes: utf8(`Species,Notes\nParus major,x\nParus ater,"open\n${'Parus cristatus,y\n'.repeat(2000)}`),
      limits: { recordCharacters: 5000 },
      outcome: {
        header: ['Species', 'Notes'],
        rows: [
          ['Parus major', 'x'],
          ['', ''],
        ],
        problems: 1,
      },
    },
    {
      name: 'too many cells',
      bytes: utf8('Species,Place\nParus major,Köln,bridge\n'),
      outcome: { header: ['Species', 'Place'], rows: [['Parus major', 'Köln']], problems: 1 },
    },
    {
      name: 'empty cells beyond the header',
      bytes: utf8('Species,Sex\nParus major,F,,,\n'),
      outcome: { header: ['Species', 'Sex'], rows: [['Parus major', 'F']] },
    },
    {
      name: 'too few cells',
      bytes: utf8('Species,Sex,Wing\nParus major\n'),
      outcome: { header: HEAD, rows: [['Parus major', '', '']] },
    },
    {
      name: 'blank lines between',
      bytes: utf8('Species,Sex\n\nParus major,F\n\n\nParus ater,M\n\n'),
      outcome: {
        header: ['Species', 'Sex'],
        rows: [
          ['Parus major', 'F'],
          ['Parus ater', 'M'],
        ],
      },
    },
    {
      name: 'rows of dividers only',
      bytes: utf8('Species,Sex\n,,\nParus major,F\n , \n'),
      outcome: { header: ['Species', 'Sex'], rows: [['Parus major', 'F']] },
    },
    {
      name: 'titles above the header',
      bytes: utf8('Birds of 2026,,\nprinted in June,,\nSpecies,Sex,Wing\nParus major,F,70\n'),
      outcome: { header: HEAD, rows: [['Parus major', 'F', '70']], note: 'above the header' },
    },
    {
      name: 'same name twice',
      bytes: utf8('Species,Date,Date\nParus major,a,b\n'),
      outcome: {
        header: ['Species', 'Date', 'Date (2)'],
        rows: [['Parus major', 'a', 'b']],
        note: 'Two columns',
      },
    },
    {
      name: 'column without a name',
      bytes: utf8('Species,,Sex\nParus major,x,F\n'),
      outcome: { header: ['Species', 'Column 2', 'Sex'], rows: [['Parus major', 'x', 'F']] },
    },
    {
      name: 'line break in a head',
      bytes: utf8('Species,"Wing\n(mm)"\nParus major,70\n'),
      outcome: { header: ['Species', 'Wing (mm)'], rows: [['Parus major', '70']] },
    },
    {
      name: '200 columns',
      bytes: utf8(`${wide.join(',')}\n${wide.join(',')}\n`),
      outcome: { header: wide, rows: [wide] },
    },
    {
      name: 'more columns than the limit',
      bytes: utf8(`${wide.join(',')}\n${wide.join(',')}\n`),
      limits: { columns: 100 },
      outcome: { refused: 'out-of-range', saying: 'columns' },
    },
    {
      name: 'more rows than the limit',
      bytes: utf8(`Species\n${'Parus major\n'.repeat(5)}`),
      limits: { rows: 3 },
      outcome: {
        header: ['Species'],
        rows: [['Parus major'], ['Parus major'], ['Parus major'], ['']],
        problems: 1,
      },
    },
    {
      name: 'larger than the limit',
      bytes: utf8(`Species\n${'Parus major\n'.repeat(500)}`),
      limits: { fileBytes: 1000 },
      outcome: { refused: 'out-of-range', saying: 'larger' },
    },
    {
      name: 'formula',
      bytes: utf8('Species,Notes\nParus major,"=HYPERLINK(""http://example.org"",""x"")"\n'),
      outcome: {
        header: ['Species', 'Notes'],
        rows: [['Parus major', '=HYPERLINK("http://example.org","x")']],
      },
    },
    {
      name: 'formula that was made text before',
      bytes: utf8("Species,Notes\nParus major,'=1+1\n"),
      outcome: { header: ['Species', 'Notes'], rows: [['Parus major', '=1+1']] },
    },
    {
      name: 'hard spaces around',
      bytes: utf8('Species,Sex\n\u00a0Parus major \u00a0, F\n'),
      outcome: { header: ['Species', 'Sex'], rows: [['Parus major', 'F']] },
    },
    {
      name: 'numbers where the header should be',
      bytes: utf8('1,128.5,70\n2,127,71\n'),
      outcome: { refused: 'unreadable', saying: 'names of the columns' },
    },
    {
      name: 'dates where the header should be',
      bytes: utf8('2026-01-02,Parus major\n2026-01-03,Parus ater\n'),
      outcome: { refused: 'unreadable', saying: 'names of the columns' },
    },
    { name: 'header only', bytes: utf8('Species,Sex\n'), outcome: { header: ['Species', 'Sex'], rows: [] } },
    { name: 'empty', bytes: Buffer.alloc(0), outcome: { refused: 'empty' } },
    { name: 'only a mark', bytes: mark(0xef, 0xbb, 0xbf), outcome: { refused: 'empty' } },
    { name: 'only blanks', bytes: utf8('  \n\n\t\n'), outcome: { refused: 'empty' } },
    { name: 'only dividers', bytes: utf8(',,,\n,,,\n'), outcome: { refused: 'empty' } },
  ];
}

export function foreignFiles(): NastyFile[] {
  return [
    {
      name: 'zero bytes',
      bytes: Buffer.alloc(5000),
      outcome: { refused: 'unreadable', saying: 'zero bytes' },
    },
    {
      name: 'random bytes',
      bytes: Buffer.from(Array.from({ length: 4096 }, (_, index) => (index * 7919 + 13) % 251)),
      outcome: { refused: 'unreadable' },
    },
    {
      name: 'control signs',
      bytes: Buffer.from(Array.from({ length: 4096 }, (_, index) => 1 + (index % 8))),
      outcome: { refused: 'unreadable' },
    },
    {
      name: 'old workbook',
      bytes: mark(0xd0, 0xcf, 0x11, 0xe0, 0xa1, 0xb1, 0x1a, 0xe1, 0, 0),
      outcome: { refused: 'unreadable', saying: '.xls' },
    },
    { name: 'PDF', bytes: utf8('%PDF-1.7\n1 0 obj\n'), outcome: { refused: 'unreadable', saying: 'PDF' } },
    {
      name: 'PNG',
      bytes: mark(0x89, 0x50, 0x4e, 0x47, 13, 10, 26, 10),
      outcome: { refused: 'unreadable', saying: 'picture' },
    },
    {
      name: 'JPEG',
      bytes: mark(0xff, 0xd8, 0xff, 0xe0, 0, 16),
      outcome: { refused: 'unreadable', saying: 'picture' },
    },
    { name: 'gzip', bytes: gzipSync(CSV), outcome: { refused: 'unreadable', saying: 'compressed' } },
    { name: 'RTF', bytes: utf8('{\\rtf1\\ansi Species}'), outcome: { refused: 'unreadable', saying: 'RTF' } },
    {
      name: 'web page',
      bytes: utf8('<html><table><tr><td>Species</td></tr></table></html>'),
      outcome: { refused: 'unreadable', saying: 'web page' },
    },
    {
      name: 'XML',
      bytes: utf8('<?xml version="1.0"?><rows/>'),
      outcome: { refused: 'unreadable', saying: 'XML' },
    },
    {
      name: 'cut zip',
      bytes: utf8('PK\u0003\u0004 and no more'),
      outcome: { refused: 'unreadable', saying: 'damaged' },
    },
  ];
}
