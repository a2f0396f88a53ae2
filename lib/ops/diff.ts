import { mkdirSync, mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import path from 'node:path';
import { startEmbeddedPostgres } from './embedded-postgres/server';
import { listMigrations, migrationsDir, readSchema, schemaDir } from './migrations-folder';
import { withSchemaEngine } from './schema-engine';

/**
 * The SQL that leads from the existing migrations to the schema files, or undefined when they agree. The
 * migrations are replayed in an empty scratch database made for the purpose.
 *
 * What migrations hold beyond the schema files was tried with the engine 7.10. Left alone, so write it by hand:
 * checks, triggers, functions, views, sequences, exclusion constraints, partial indexes (unique or not) and
 * indexes over expressions. Proposed for removal, so declare it in prisma/schema as well, or strike the line
 * out: whole plain indexes (a trigram one is `@@index([name(ops: raw("gin_trgm_ops"))], type: Gin)`, indexes
 * with INCLUDE or NULLS NOT DISTINCT cannot be declared), a second foreign key over the same columns, tables.
 * A generated column shows as `DROP DEFAULT` every time: use a trigger, or a view, instead.
 */
export async function diffSchema(
  directories: { schemaDir: string; migrationsDir: string } = { schemaDir, migrationsDir },
): Promise<string | undefined> {
  const scratchDir = mkdtempSync(path.join(tmpdir(), 'furcula-diff-'));
  const server = await startEmbeddedPostgres(path.join(scratchDir, 'postgres'), { disposable: true });
  try {
    const { exitCode, stdout } = await withSchemaEngine(server.urlOf(), (engine) =>
      engine.diff({
        from: { tag: 'migrations', ...listMigrations(directories.migrationsDir) },
        to: { tag: 'schemaDatamodel', ...readSchema(directories.schemaDir) },
        script: true,
        exitCode: true,
        filters: { externalTables: [], externalEnums: [] },
      }),
    );
    return exitCode === 2 ? (stdout ?? undefined) : undefined;
  } finally {
    await server.stop();
    rmSync(scratchDir, { recursive: true, force: true });
  }
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
