import { readSheet } from 'read-excel-file/node';
import { describe, expect, it } from 'vitest';
import { inspectWorkbook } from '@/lib/exchange/workbook';
import { headCell, renderSheets } from '@/lib/platform/workbook';

describe('a workbook', () => {
  it('holds text that begins like a formula as text, and numbers as numbers', async () => {
    const texts = ['=1+1', '+1', '-1', '@SUM(A1)', '\t=1', '＝1+1', "'=1"];
    const bytes = await renderSheets([
      { sheet: 'One', data: [[headCell('=HEAD()'), 'Count'], ...texts.map((text) => [text, 3])] },
    ]);
    expect(await inspectWorkbook(bytes)).toMatchObject({ ok: true, value: { formulaCells: 0 } });
    const rows = await readSheet(bytes, { trim: false });
    expect(rows).toEqual([['=HEAD()', 'Count'], ...texts.map((text) => [text, 3])]);
  });
});
