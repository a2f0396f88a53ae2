import type { Readable } from 'node:stream';
import { text } from 'node:stream/consumers';
import { parse } from 'csv-parse';
import type { ClientBase } from 'pg';
import { type Entry, open as openZip, type ZipFile } from 'yauzl';
import { descriptorSchema } from './descriptor';
import { findMigration, fromText, listTables, type PackageTable, quoteName } from './tables';

const BATCH = 1000;

/** Why a package was not loaded; nothing of it was. */
export class PackageError extends Error {}

/**
 * Loads a package into an installation in which there is nobody yet, whole or not at all. Triggers are silent meanwhile,
 * because the rows are the outcome of commands that ran elsewhere; keys between tables are asked again at the end.
 * `also` runs in the same transaction, when all is there. Returns the rows of each table.
 */
export async function readPackage(
  client: ClientBase,
  fileName: string,
  also: () => Promise<void> = async () => undefined,
): Promise<Record<string, number>> {
  const files = await openFiles(fileName);
  try {
    const descriptor = descriptorSchema.parse(JSON.parse(await text(await files.open('datapackage.json'))));
    await client.query('BEGIN');
    const tables = await listTables(client);
    await refuseUnlessEmpty(client);
    refuseOtherShape(descriptor, tables, await findMigration(client));
    const keys = await putKeysAside(client);
    const counts: Record<string, number> = {};
    for (const table of tables) {
      await client.query(`ALTER TABLE ${quoteName(table.name)} DISABLE TRIGGER USER`);
      await client.query(`DELETE FROM ${quoteName(table.name)}`);
      const path = descriptor.resources.find((resource) => resource.table === table.name)?.path ?? '';
      counts[table.name] = await fillTable(client, table, await files.open(path));
      await client.query(`ALTER TABLE ${quoteName(table.name)} ENABLE TRIGGER USER`);
    }
    for (const { add } of keys) await client.query(add);
    await moveSequences(client);
    await also();
    await client.query('COMMIT');
    return counts;
  } catch (error) {
    await client.query('ROLLBACK');
    throw error;
  } finally {
    files.zip.close();
  }
}

/** The package's files by name, each to be opened when its turn comes. */
async function openFiles(fileName: string) {
  const zip = await new Promise<ZipFile>((resolve, reject) => {
    openZip(fileName, { lazyEntries: true, autoClose: false }, (error, opened) =>
      error ? reject(new PackageError(`The package cannot be opened: ${error.message}`)) : resolve(opened),
    );
  });
  const entries = await new Promise<Map<string, Entry>>((resolve, reject) => {
    const found = new Map<string, Entry>();
    zip.on('entry', (entry: Entry) => {
      found.set(entry.fileName, entry);
      zip.readEntry();
    });
    zip.on('end', () => resolve(found)).on('error', reject);
    zip.readEntry();
  });
  const open = (name: string): Promise<Readable> =>
    new Promise((resolve, reject) => {
      const entry = entries.get(name);
      if (entry === undefined) reject(new PackageError(`The package has no ${name || 'file of a table'}.`));
      else zip.openReadStream(entry, (error, stream) => (error ? reject(error) : resolve(stream)));
    });
  return { zip, open };
}

async function refuseUnlessEmpty(client: ClientBase): Promise<void> {
  const { rows } = await client.query<{ used: boolean }>(
    'SELECT EXISTS (SELECT FROM "Person") OR EXISTS (SELECT FROM "Collection") AS used',
  );
  if (rows[0]?.used) throw new PackageError('A package goes into an empty installation only.');
}

type Descriptor = ReturnType<typeof descriptorSchema.parse>;

function refuseOtherShape(descriptor: Descriptor, tables: readonly PackageTable[], migration: string): void {
  if (descriptor.migration !== migration) {
    throw new PackageError(
      `The package is of ${descriptor.migration}, this installation of ${migration}. Load it with the edition that wrote it, then update.`,
    );
  }
  const ours = tables.map(({ name, columns }) => `${name}: ${columns.map((column) => column.name)}`).sort();
  const theirs = descriptor.resources
    .map(({ table, schema }) => `${table}: ${schema.fields.map((field) => field.name)}`)
    .sort();
  const odd = theirs.find((table, index) => table !== ours[index]);
  if (odd !== undefined || theirs.length !== ours.length)
    throw new PackageError(
      `The package's tables are not those of this installation (${odd ?? 'one is missing'}).`,
    );
}

/** Takes the keys between tables away until all rows are there; adding them again checks every row. */
async function putKeysAside(client: ClientBase): Promise<{ add: string }[]> {
  const { rows } = await client.query<{ drop: string; add: string }>(
    `SELECT format('ALTER TABLE %s DROP CONSTRAINT %I', conrelid::regclass, conname) AS drop,
       format('ALTER TABLE %s ADD CONSTRAINT %I %s', conrelid::regclass, conname, pg_get_constraintdef(oid)) AS add
     FROM pg_constraint WHERE contype = 'f' AND connamespace = 'public'::regnamespace ORDER BY conname`,
  );
  for (const { drop } of rows) await client.query(drop);
  return rows;
}

async function fillTable(client: ClientBase, table: PackageTable, file: Readable): Promise<number> {
  const names = table.columns.map(({ name }) => quoteName(name));
  const values = table.columns.map((column, index) => fromText(column, `r.c${index}`));
  const sql = `INSERT INTO ${quoteName(table.name)} (${names.join(', ')}) SELECT ${values.join(', ')}
    FROM unnest(${names.map((_, index) => `$${index + 1}::text[]`).join(', ')}) AS r(${names.map((_, index) => `c${index}`).join(', ')})`;
  let waiting: (string | null)[][] = [];
  let count = 0;
  const flush = async () => {
    if (waiting.length === 0) return;
    await client.query(
      sql,
      names.map((_, index) => waiting.map((row) => row[index] ?? null)),
    );
    count += waiting.length;
    waiting = [];
  };
  const records = file.pipe(
    parse({ from_line: 2, cast: (value, { quoting }) => (value === '' && !quoting ? null : value) }),
  );
  file.on('error', (error) => records.destroy(error));
  for await (const record of records as AsyncIterable<(string | null)[]>) {
    waiting.push(record);
    if (waiting.length >= BATCH) await flush();
  }
  await flush();
  return count;
}

/** Counters go on after the largest number that was loaded. */
async function moveSequences(client: ClientBase): Promise<void> {
  const { rows } = await client.query<{ sequence: string; table: string; column: string }>(
    `SELECT s.oid::regclass::text AS sequence, d.refobjid::regclass::text AS "table", a.attname AS "column"
     FROM pg_class s JOIN pg_depend d ON d.objid = s.oid AND d.deptype IN ('a', 'i') AND d.refobjsubid > 0
     JOIN pg_attribute a ON a.attrelid = d.refobjid AND a.attnum = d.refobjsubid
     WHERE s.relkind = 'S' AND s.relnamespace = 'public'::regnamespace`,
  );
  for (const { sequence, table, column } of rows) {
    await client.query(
      `SELECT setval($1::regclass, max(${quoteName(column)})) FROM ${table} HAVING count(*) > 0`,
      [sequence],
    );
  }
}
