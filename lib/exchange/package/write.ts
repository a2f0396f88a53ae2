import { createHash } from 'node:crypto';
import { Readable, type Writable } from 'node:stream';
import { pipeline } from 'node:stream/promises';
import type { ClientBase } from 'pg';
import { ZipFile } from 'yazl';
import { describePackage, pathOfTable } from './descriptor';
import { findMigration, listTables, type PackageTable, quoteName, toText } from './tables';

const BATCH = 2000;
/** The same on every entry, whenever and wherever it is written. */
const ENTRY = { mtime: new Date(1980, 0, 1), mode: 0o100644, forceDosTimestamp: true };

/** A value between commas: nothing at all for null, quotes around whatever needs them, and around an empty text. */
function quoteValue(value: string | null): string {
  if (value === null) return '';
  return value === '' || /[",\r\n]/.test(value) ? `"${value.replaceAll('"', '""')}"` : value;
}

async function* writeTable(
  client: ClientBase,
  table: PackageTable,
  count: (rows: number) => void,
): AsyncGenerator<string> {
  yield `${table.columns.map(({ name }) => quoteValue(name)).join(',')}\n`;
  const order = table.primaryKey.map((key) => {
    const isText = ['text', 'varchar', 'citext'].includes(
      table.columns.find(({ name }) => name === key)?.sqlType ?? '',
    );
    return isText ? `t.${quoteName(key)} COLLATE "C"` : `t.${quoteName(key)}`;
  });
  await client.query(
    `DECLARE kept NO SCROLL CURSOR FOR SELECT ${table.columns.map(toText).join(', ')}
     FROM ${quoteName(table.name)} t ORDER BY ${order.join(', ')}`,
  );
  for (;;) {
    const { rows } = await client.query<(string | null)[]>({
      text: `FETCH ${BATCH} FROM kept`,
      rowMode: 'array',
    });
    if (rows.length === 0) break;
    count(rows.length);
    yield rows.map((row) => `${row.map(quoteValue).join(',')}\n`).join('');
  }
  await client.query('CLOSE kept');
}

/** Rows of a table, and the SHA-256 of its CSV. The same rows give the same digest, in any database. */
export type TableSum = { rows: number; sha256: string };

/** Passes a table's CSV on and says at its end what it came to. */
async function* sumTable(
  client: ClientBase,
  table: PackageTable,
  done: (sum: TableSum) => void,
): AsyncGenerator<string> {
  const hash = createHash('sha256');
  let rows = 0;
  for await (const text of writeTable(client, table, (more) => {
    rows += more;
  })) {
    hash.update(text, 'utf8');
    yield text;
  }
  done({ rows, sha256: hash.digest('hex') });
}

/** Runs reads that all see the database as it stood at one instant. */
export async function atOneSnapshot<T>(client: ClientBase, read: () => Promise<T>): Promise<T> {
  await client.query('BEGIN ISOLATION LEVEL REPEATABLE READ READ ONLY');
  try {
    return await read();
  } finally {
    await client.query('ROLLBACK');
  }
}

/** What every table comes to, without keeping it. Inside a transaction. */
export async function sumTables(client: ClientBase): Promise<Record<string, TableSum>> {
  const sums: Record<string, TableSum> = {};
  for (const table of await listTables(client)) {
    const text = sumTable(client, table, (sum) => {
      sums[table.name] = sum;
    });
    while (!(await text.next()).done);
  }
  return sums;
}

/**
 * Writes the whole installation as one zip with a `datapackage.json` and a CSV of every table, all as they stood at
 * one instant. Memory does not grow with the tables. The package holds everything, finders' names and digests of
 * passwords too: it is to be kept like the database itself. Returns what each table came to. Inside atOneSnapshot.
 */
export async function writePackage(client: ClientBase, out: Writable): Promise<Record<string, TableSum>> {
  const tables = await listTables(client);
  const descriptor = describePackage(tables, await findMigration(client));
  const sums: Record<string, TableSum> = {};
  const zip = new ZipFile();
  zip.on('error', (error) => out.destroy(error as Error));
  zip.addBuffer(Buffer.from(`${JSON.stringify(descriptor, null, 2)}\n`), 'datapackage.json', ENTRY);
  for (const table of tables) {
    zip.addReadStreamLazy(pathOfTable(table.name), ENTRY, (give) => {
      const keep = (sum: TableSum) => {
        sums[table.name] = sum;
      };
      const rows = Readable.from(sumTable(client, table, keep));
      rows.on('error', (error) => out.destroy(error));
      give(null, rows);
    });
  }
  zip.end();
  await pipeline(zip.outputStream, out);
  return sums;
}
