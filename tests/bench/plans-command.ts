import { writeFile } from 'node:fs/promises';
import { fileURLToPath } from 'node:url';
import pg from 'pg';
import { closeDb, db } from '@/lib/platform/db';
import { settings } from '@/lib/platform/env';
import { makeActor } from '@/seed/factories';
import { listActs, openYear, ROLES_OF_BENCH } from './acts';
import { fillCollection } from './collection';
import { plansOf, sayPlans } from './plans';

/**
 * Writes tests/bench/plans.md: what PostgreSQL reads for each main read among 20,000 birds. On a throwaway database with
 * the demo in it: `DATABASE_URL=… npm run bench:plans`
 */
const BIRDS = 20_000;
const FILE = fileURLToPath(new URL('plans.md', import.meta.url));

async function main(): Promise<void> {
  const url = settings().DATABASE_URL;
  if (url === undefined) throw new Error('Say DATABASE_URL: a throwaway database with the demo in it.');
  const { collectionId } = await fillCollection(url, BIRDS);
  const actor = await makeActor(db(), collectionId, ...ROLES_OF_BENCH);
  const pool = new pg.Pool({ connectionString: url, max: 1 });
  await openYear(pool, collectionId, actor.personId ?? '');
  const head = `# What the main reads read\n\nPlans of PostgreSQL among ${BIRDS.toLocaleString('en')} birds, made by \`npm run bench:plans\`. A test holds that no read by keys scans a large table (tests/integration/scale/plans.test.ts).\n`;
  const sections = [head];
  for (const act of await listActs(pool, collectionId))
    if (act.kind === 'read') sections.push(sayPlans(act, await plansOf(pool, act, actor)));
  await writeFile(FILE, `${sections.join('\n').trim()}\n`);
  await pool.end();
  await closeDb();
}

main().catch((error) => {
  console.error(error);
  process.exitCode = 1;
});
