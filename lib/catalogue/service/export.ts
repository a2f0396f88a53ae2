import 'server-only';
import { Readable } from 'node:stream';
import { stringify } from 'csv-stringify';
import { authorise, type CommandContext } from '@/lib/platform/actor';
import { dayIn, now } from '@/lib/platform/clock';
import { db } from '@/lib/platform/db';
import type { FileAnswer } from '@/lib/platform/http';
import { writeCursor } from '@/lib/platform/paging';
import { withTx } from '@/lib/platform/tx';
import { catalogueEvents } from '../events';
import { findNames } from '../repo/review';
import { findRows } from '../repo/search/search';
import type { ExportQuery, SearchColumn, SearchRow } from '../search-wire';
import { readSearch, toRow } from './search';

const BATCH = 1_000;

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

/**
 * A result as CSV (RFC 4180, UTF-8 with a byte order mark), row after row as they are read. Cells that a spreadsheet
 * would take for a formula begin with an apostrophe. That it was taken out is written down.
 */
export async function exportSearch(context: CommandContext, query: ExportQuery): Promise<FileAnswer> {
  const { actor } = context;
  authorise(actor, 'exports.make');
  const { where } = await readSearch(actor, query.q);
  await withTx(context, async (work) => {
    work.audit(
      catalogueEvents.make(
        'catalogue.exported',
        { subjectType: 'collection', subjectId: actor.collectionId },
        { q: query.q, columns: query.columns },
      ),
    );
  });
  async function* lines() {
    let after: string | undefined;
    do {
      const found = await findRows(where, { sort: query.sort, size: BATCH, after });
      const rows = found.slice(0, BATCH);
      const names = await findNames(
        db(),
        rows.map(({ preparatorId }) => preparatorId),
      );
      for (const row of rows) {
        const seen = toRow(row, actor, names);
        yield query.columns.map((column) => CELLS[column](seen));
      }
      const last = rows.at(-1);
      after = found.length > BATCH && last ? writeCursor([last.sortKey, last.birdId]) : undefined;
    } while (after !== undefined);
  }
  const csv = stringify({
    header: true,
    columns: [...query.columns],
    bom: true,
    escape_formulas: true,
    record_delimiter: '\r\n',
  });
  return {
    body: Readable.toWeb(Readable.from(lines()).pipe(csv)) as ReadableStream<Uint8Array>,
    mediaType: 'text/csv; charset=utf-8',
    fileName: `catalogue-${dayIn('UTC', now())}.csv`,
  };
}
