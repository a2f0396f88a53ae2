import 'server-only';
import writeXlsx, { type Cell, type Row, type Sheet } from 'write-excel-file/node';

export type { Cell, Row, Sheet };

export const WORKBOOK_MEDIA_TYPE = 'application/vnd.openxmlformats-officedocument.spreadsheetml.sheet';

export const headCell = (words: string): Cell => ({
  value: words,
  fontWeight: 'bold',
  bottomBorderStyle: 'thin',
  wrap: true,
});

/**
 * A text as a cell of text: "=1+1" is shown as it was written, and stays text when somebody edits the cell, since its
 * format is text, too (ECMA-376 part 1, 18.8.30, format 49 "@").
 */
function asText(cell: Cell): Cell {
  if (typeof cell === 'string') return { value: cell, type: String, format: '@' };
  if (cell === null || typeof cell !== 'object' || !('value' in cell)) return cell;
  return typeof cell.value === 'string' ? ({ ...cell, type: String, format: '@' } as Cell) : cell;
}

/** A workbook (XLSX) of these sheets; no cell of it is a formula. */
export const renderSheets = (sheets: readonly Sheet<never>[]): Promise<Buffer> =>
  writeXlsx(
    sheets.map((sheet) => ({
      ...sheet,
      data: (sheet.data as Row[] | undefined)?.map((row) => row.map(asText)),
    })) as Sheet<never>[],
  ).toBuffer();
