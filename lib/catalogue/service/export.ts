import { sayNumber } from '@/lib/platform/words/say-number';
import 'server-only';
import { Readable } from 'node:stream';
import { stringify } from 'csv-stringify';
import { type Actor, authorise, type CommandContext } from '@/lib/platform/actor';
import { dayIn, now } from '@/lib/platform/clock';
import { db } from '@/lib/platform/db';
import { notValid } from '@/lib/platform/errors';
import type { FileAnswer } from '@/lib/platform/http';
import { writeCursor } from '@/lib/platform/paging';
import { withTx } from '@/lib/platform/tx';
import { headCell, type Row, renderSheets, type Sheet, WORKBOOK_MEDIA_TYPE } from '@/lib/platform/workbook';
import { catalogueEvents } from '../events';
import { findNames } from '../repo/review';
import { onlyBirds } from '../repo/search/compile';
import { findRows } from '../repo/search/search';
import { type ExportQuery, type SearchColumn, type SearchRow, WORKBOOK_ROWS } from '../search-wire';
import { readSearch, toRow } from './search';

const BATCH = 1_000;

type Where = Awaited<ReturnType<typeof readSearch>>['where'];

const CELLS: Record<SearchColumn, (row: SearchRow) => string | null> = {
  number: (row) => row.number,
  catalogueNumber: (row) => row.catalogueNumber,
  prepNumber: (row) => row.prepNumber,
  scientificName: (row) => row.scientificName,
  commonName: (row) => row.commonName,
  familyName: (row) => row.familyName,
  sex: (row) => row.sex,
  age: (row) => row.age,
  stage: (row) => row.stage,
  found: (row) => (row.foundFrom === row.foundTo ? row.foundFrom : `${row.foundFrom}/${row.foundTo}`),
  stateProvince: (row) => row.stateProvince,
  county: (row) => row.county,
  locality: (row) => row.locality,
  preparator: (row) => row.preparator,
  preparedOn: (row) => row.preparedOn,
  approvedOn: (row) => row.approvedOn,
  materials: (row) => row.kinds.join(' | '),
  custody: (row) => row.custodies.join(' | '),
  style: (row) => row.styleId,
};

const HEADS: Record<SearchColumn, string> = {
  number: 'Number',
  catalogueNumber: 'Catalogue number',
  prepNumber: 'Preparation number',
  scientificName: 'Scientific name',
  commonName: 'Common name',
  familyName: 'Family',
  sex: 'Sex',
  age: 'Age',
  stage: 'Where it is',
  found: 'Found',
  stateProvince: 'State or province',
  county: 'County',
  locality: 'Place',
  preparator: 'Preparator',
  preparedOn: 'Prepared',
  approvedOn: 'Catalogued',
  materials: 'Materials',
  custody: 'Custody',
  style: 'Preparation',
};

/** The cells of a result, bird after bird as they are read, as far as this reader may know them. */
async function* cellsOf(actor: Actor, where: Where, { sort, columns }: ExportQuery) {
  let after: string | undefined;
  do {
    const found = await findRows(where, { sort, size: BATCH, after });
    const rows = found.slice(0, BATCH);
    const names = await findNames(
      db(),
      rows.map(({ preparatorId }) => preparatorId),
    );
    for (const row of rows) {
      const seen = toRow(row, actor, names);
      yield columns.map((column) => CELLS[column](seen));
    }
    const last = rows.at(-1);
    after = found.length > BATCH && last ? writeCursor([last.sortKey, last.birdId]) : undefined;
  } while (after !== undefined);
}

/**
 * A result as a table: CSV (RFC 4180, UTF-8 with a byte order mark; cells that a spreadsheet would take for a formula
 * begin with an apostrophe), or a workbook whose cells are all text. That it was taken out is written down.
 * @throws AppError not-valid for a workbook of more than `WORKBOOK_ROWS` birds
 */
export async function exportSearch(context: CommandContext, query: ExportQuery): Promise<FileAnswer> {
  const { actor } = context;
  authorise(actor, 'exports.make');
  const { where } = await readSearch(actor, query.q);
  const { columns, form, q, birds } = query;
  const cells = cellsOf(actor, birds === undefined ? where : onlyBirds(where, birds), query);
  const file = form === 'csv' ? asCsv(cells, columns) : await asWorkbook(cells, columns);
  await withTx(context, async (work) => {
    work.audit(
      catalogueEvents.make(
        'catalogue.exported',
        { subjectType: 'collection', subjectId: actor.collectionId },
        { q, columns, form, chosen: birds?.length },
      ),
    );
  });
  return { ...file, fileName: `catalogue-${dayIn('UTC', now())}.${form}` };
}

type Cells = AsyncGenerator<(string | null)[]>;

function asCsv(cells: Cells, columns: readonly SearchColumn[]): Omit<FileAnswer, 'fileName'> {
  const csv = stringify({
    header: true,
    columns: [...columns],
    bom: true,
    escape_formulas: true,
    record_delimiter: '\r\n',
  });
  return {
    body: Readable.toWeb(Readable.from(cells).pipe(csv)) as ReadableStream<Uint8Array>,
    mediaType: 'text/csv; charset=utf-8',
  };
}

async function asWorkbook(
  cells: Cells,
  columns: readonly SearchColumn[],
): Promise<Omit<FileAnswer, 'fileName'>> {
  const data: Row[] = [columns.map((column) => headCell(HEADS[column]))];
  for await (const row of cells) {
    if (data.length > WORKBOOK_ROWS)
      throw notValid(
        `A workbook holds at most ${sayNumber(WORKBOOK_ROWS)} birds: narrow the search, or take the CSV.`,
      );
    data.push(row);
  }
  const sheet: Sheet<never> = {
    sheet: 'Birds',
    data,
    columns: columns.map(() => ({ width: 20 })),
    stickyRowsCount: 1,
    orientation: 'landscape',
  };
  return { body: new Uint8Array(await renderSheets([sheet])), mediaType: WORKBOOK_MEDIA_TYPE };
}
