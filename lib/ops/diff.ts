import { mkdirSync, writeFileSync } from 'node:fs';
import path from 'node:path';
import { startEmbeddedPostgres } from './embedded-postgres/server';
import { listMigrations, migrationsDir, readSchema, schemaDir } from './migrations-folder';
import { withSchemaEngine } from './schema-engine';
import { makeScratchDir, removeScratchDir } from './scratch-dir';

/** What migrations make on purpose beside the schema files: the rate limiter's table, trigram indexes. */
const keptTables = ['public.rate_limit'];
const keptIndexDrops =
  /^-- DropIndex\nDROP INDEX "(?:\w+_trgm|attachment_once|bone_entry_element|catalogue_index_\w+|import_row_values)";\n*/gm;

/**
 * The SQL that leads from the existing migrations to the schema files, or undefined when they agree. The
 * migrations are replayed in an empty scratch database made for the purpose.
 *
 * What migrations hold beyond the schema files was tried with the engine 7.10. Left alone, so write it by hand:
 * checks, triggers, functions, views, sequences, exclusion constraints, partial indexes (unique or not) and
 * indexes over expressions. Proposed for removal, so declare it in prisma/schema as well, or strike the line
 * out: whole plain indexes (those with INCLUDE or NULLS NOT DISTINCT cannot be declared), a second foreign key
 * over the same columns, tables. Trigram indexes are kept when their name ends in `_trgm`; the few others made by hand are named above.
 * A generated column shows as `DROP DEFAULT` every time: use a trigger, or a view, instead.
 */
export async function diffSchema(
  directories: { schemaDir: string; migrationsDir: string } = { schemaDir, migrationsDir },
): Promise<string | undefined> {
  const scratchDir = makeScratchDir('diff');
  const server = await startEmbeddedPostgres(path.join(scratchDir, 'postgres'), { disposable: true });
  try {
    return await diffSchemaOn(server.urlOf(), directories);
  } finally {
    await server.stop();
    removeScratchDir(scratchDir);
  }
}

/** The same on a server that runs already and lets us make databases; the database of the address is not touched. */
export async function diffSchemaOn(
  databaseUrl: string,
  directories: { schemaDir: string; migrationsDir: string } = { schemaDir, migrationsDir },
): Promise<string | undefined> {
  const { stdout } = await withSchemaEngine(databaseUrl, (engine) =>
    engine.diff({
      from: { tag: 'migrations', ...listMigrations(directories.migrationsDir) },
      to: { tag: 'schemaDatamodel', ...readSchema(directories.schemaDir) },
      script: true,
      exitCode: null,
      filters: { externalTables: keptTables, externalEnums: [] },
    }),
  );
  const sql = (stdout ?? '').replace(keptIndexDrops, '').trim();
  return sql === '' || sql === '-- This is an empty migration.' ? undefined : `${sql}\n`;
}

/** Writes a migration and returns its file. The name begins with the UTC time, which gives the order. */
export function writeMigration(name: string, sql: string, dir: string = migrationsDir): string {
  const time = new Date().toISOString().replace(/\D/g, '').slice(0, 14);
  const migrationDir = path.join(dir, `${time}_${name}`);
  mkdirSync(migrationDir, { recursive: true });
  writeFileSync(path.join(dir, 'migration_lock.toml'), 'provider = "postgresql"\n');
  const file = path.join(migrationDir, 'migration.sql');
  writeFileSync(file, sql.endsWith('\n') ? sql : `${sql}\n`);
  return file;
}
