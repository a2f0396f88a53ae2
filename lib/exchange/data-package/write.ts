import type { Writable } from 'node:stream';
import type { ArchiveOptions } from '@/lib/exchange/dwca';
import type { ExportBird } from '@/lib/exchange/export-types';
import { type ArchiveCounts, quoteField, writeZipOfTables } from '@/lib/exchange/zip-tables';
import { describeDataPackage } from './descriptor';
import { emitPackageRows, type PackageRow, usagePolicyOf } from './rows';
import { DATA_PACKAGE_TABLES, fileOfTable } from './tables';

const COLUMNS = new Map(
  DATA_PACKAGE_TABLES.map(({ name, fields }) => [name, fields.map((field) => field.name)]),
);
/** One row for the whole package. */
const POLICY = 'usage-policy';

const columnsOf = (table: string): readonly string[] => COLUMNS.get(table) ?? [];
const headOf = (table: string): string => `${columnsOf(table).join(',')}\n`;
const lineOf = (table: string, row: PackageRow): string =>
  `${columnsOf(table)
    .map((column) => quoteField(row[column]))
    .join(',')}\n`;

/**
 * The form that loses the least: a Darwin Core Data Package, a table for each kind of thing, joined by identifiers. The
 * birds are read once; memory does not grow with their number.
 */
export function writeDataPackage(
  birds: AsyncIterable<ExportBird>,
  out: Writable,
  { holder, metadata, onProgress, signal }: ArchiveOptions,
): Promise<ArchiveCounts> {
  const plan = {
    documents: [
      { fileName: 'datapackage.json', text: `${JSON.stringify(describeDataPackage(metadata), null, 2)}\n` },
      { fileName: fileOfTable(POLICY), text: headOf(POLICY) + lineOf(POLICY, usagePolicyOf(holder)) },
    ],
    tables: DATA_PACKAGE_TABLES.filter(({ name }) => name !== POLICY).map(({ name }) => ({
      fileName: fileOfTable(name),
      head: headOf(name),
    })),
    publishedOn: metadata.publishedOn,
    onProgress,
    signal,
  };
  return writeZipOfTables(birds, out, plan, (bird, write) =>
    emitPackageRows(bird, holder, (table, rows) =>
      write(
        fileOfTable(table),
        rows.map((row) => lineOf(table, row)),
      ),
    ),
  );
}
