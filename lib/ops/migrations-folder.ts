import { existsSync, readdirSync, readFileSync } from 'node:fs';
import path from 'node:path';
import { projectRoot } from './project';

export const migrationsDir = path.join(projectRoot, 'prisma', 'migrations');
export const schemaDir = path.join(projectRoot, 'prisma', 'schema');

/** Lists a migrations folder in the form the schema engine takes, oldest first. */
export function listMigrations(dir: string = migrationsDir) {
  const names = existsSync(dir)
    ? readdirSync(dir, { withFileTypes: true })
        .filter((entry) => entry.isDirectory())
        .map((entry) => entry.name)
        .sort()
    : [];
  return {
    baseDir: dir,
    lockfile: { path: 'migration_lock.toml', content: 'provider = "postgresql"\n' },
    shadowDbInitScript: '',
    migrationDirectories: names.map((name) => ({
      path: name,
      migrationFile: { path: 'migration.sql', content: readScript(path.join(dir, name, 'migration.sql')) },
    })),
  };
}

function readScript(file: string): { tag: 'ok'; value: string } | { tag: 'error'; value: string } {
  try {
    return { tag: 'ok', value: readFileSync(file, 'utf8') };
  } catch (error) {
    return { tag: 'error', value: error instanceof Error ? error.message : String(error) };
  }
}

/** Reads the schema, one file a stage, in the form the schema engine takes. */
export function readSchema(dir: string = schemaDir): { files: { path: string; content: string }[] } {
  const names = readdirSync(dir)
    .filter((name) => name.endsWith('.prisma'))
    .sort();
  return {
    files: names.map((name) => ({ path: name, content: readFileSync(path.join(dir, name), 'utf8') })),
  };
}
