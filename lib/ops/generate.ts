import { spawnSync } from 'node:child_process';
import { existsSync, readFileSync, writeFileSync } from 'node:fs';
import path from 'node:path';
import { fingerprint } from './fingerprint';
import { writeRouteList } from './generate-routes';
import { schemaDir } from './migrations-folder';
import { OperatorError } from './operator-error';
import { projectRoot } from './project';

/** Where the generated client is (git-ignored, see the generator in prisma/schema). */
export const generatedDir = 'lib/platform/generated';

/**
 * Writes the database client from prisma/schema, unless the one that is there belongs to this schema, and the list of
 * routes from app/api. Returns whether it had to write the client.
 */
export function generateClient({ isForced = false } = {}): boolean {
  writeRouteList();
  const stampFile = path.join(projectRoot, generatedDir, 'schema-digest');
  const stamp = fingerprint(['prisma/schema', 'node_modules/prisma/package.json']);
  const isFresh = existsSync(stampFile) && readFileSync(stampFile, 'utf8') === stamp;
  if (isFresh && !isForced) return false;
  const prisma = path.join(projectRoot, 'node_modules', 'prisma', 'build', 'index.js');
  const run = spawnSync(process.execPath, [prisma, 'generate', '--schema', schemaDir], {
    cwd: projectRoot,
    encoding: 'utf8',
    env: {
      ...process.env,
      // The tool would download its native schema engine, which generating does not use: any program will do.
      PRISMA_SCHEMA_ENGINE_BINARY: process.execPath,
      PRISMA_HIDE_UPDATE_MESSAGE: '1',
      CHECKPOINT_DISABLE: '1',
    },
  });
  if (run.status !== 0) {
    throw new OperatorError(`The database client could not be generated: ${run.stderr || run.stdout}`);
  }
  writeFileSync(stampFile, stamp);
  return true;
}
