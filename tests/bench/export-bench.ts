import { spawn } from 'node:child_process';
import { once } from 'node:events';
import { createWriteStream } from 'node:fs';
import { mkdtemp, rm, stat } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { performance } from 'node:perf_hooks';
import { Readable } from 'node:stream';
import { pipeline } from 'node:stream/promises';
import { fileURLToPath } from 'node:url';
import { parseArgs } from 'node:util';
import { selectBirds } from '@/lib/exchange/repo/birds';
import { exportBirds } from '@/lib/exchange/service/exports';
import type { Actor } from '@/lib/platform/actor';
import { closeDb, db } from '@/lib/platform/db';
import { contextOf, makeActor, makeCollection, makePermit, makeTaxon } from '@/seed/factories';

/**
 * How long the occurrence archive of 1,000,000 birds takes, in how much memory, and how long the database alone takes
 * to write the same facts (`COPY … TO PROGRAM`, so it must be the superuser of its own server). On an empty, migrated
 * database that is thrown away after: `DATABASE_URL=… node --conditions=react-server --import tsx
 * tests/bench/export-bench.ts 1000000`
 */
const VALUES = {
  wingMm: {
    value: 128.5,
    unit: 'mm',
    verbatim: '128.5',
    method: null,
    at: '2026-02-01T10:00:00.000Z',
    by: null,
  },
  tailMm: { value: 98, unit: 'mm', verbatim: '98', method: null, at: '2026-02-01T10:00:00.000Z', by: null },
  massG: { value: 77.2, unit: 'g', verbatim: '77.2', method: null, at: '2026-02-01T10:00:00.000Z', by: null },
};

/** Catalogued birds with a bench record, a determination, a carcass, a skin and a skeleton each; triggers are silent. */
async function fill(collectionId: string, personId: string, count: number): Promise<void> {
  const taxonId = await makeTaxon(db());
  const permitId = await makePermit(db(), collectionId);
  const insertAll = [
    `INSERT INTO "SalvageRecord" (id, "collectionId", number, state, coverage, "taxonId", "permitId", "verbatimTaxon", "foundFrom", "foundTo",
       "receivedOn", country, "stateProvince", county, locality, latitude, longitude, "uncertaintyM", circumstances, cause)
     SELECT md5('s' || n)::uuid, $1, 'X-' || n, 'accepted', 'covered', '${taxonId}', '${permitId}', 'robin',
       date '2020-01-01' + n % 2000, date '2020-01-01' + n % 2000, date '2020-01-02' + n % 2000, 'US', 'Ohio', 'Franklin',
       'Below window ' || n % 977, 39 + (n % 1000) / 1000.0, -83 + (n % 997) / 1000.0, 30, 'window, "large"', 'window-strike'
     FROM generate_series(1, ${count}) n`,
    `INSERT INTO "Bird" (id, "collectionId", "salvageId", number, "taxonId", state, sex)
     SELECT md5('b' || n)::uuid, $1, md5('s' || n)::uuid, 'X-' || n, '${taxonId}', 'prepared', 'female' FROM generate_series(1, ${count}) n`,
    `INSERT INTO "BenchRecord" (id, "collectionId", "birdId", "prepNumber", state, "styleId", "preparatorId", values)
     SELECT md5('r' || n)::uuid, $1, md5('b' || n)::uuid, 'XX ' || n, 'approved', 'skin-with-partial-skeleton', '${personId}',
       '${JSON.stringify(VALUES)}' FROM generate_series(1, ${count}) n`,
    `INSERT INTO "CatalogueEntry" (id, "collectionId", "birdId", number, "approvedById", approved)
     SELECT md5('c' || n)::uuid, $1, md5('b' || n)::uuid, 'B-' || n, '${personId}', '{}' FROM generate_series(1, ${count}) n`,
    `INSERT INTO "Determination" (id, "birdId", "taxonId", verbatim, "determinedBy", "determinedOn")
     SELECT md5('d' || n)::uuid, md5('b' || n)::uuid, '${taxonId}', 'Turdus migratorius', 'A. Tester', '2026-02-01' FROM generate_series(1, ${count}) n`,
    `INSERT INTO "Material" (id, "collectionId", "birdId", kind, suffix, state, custody)
     SELECT md5(k.suffix || n)::uuid, $1, md5('b' || n)::uuid, k.kind, k.suffix, k.state, k.custody FROM generate_series(1, ${count}) n,
       (VALUES ('carcass', 'C', NULL, 'used-up'), ('skin', 'S', 'shelved', 'on-shelf'), ('skeleton', 'K', 'shelved', 'on-shelf')) k(kind, suffix, state, custody)`,
  ];
  await db().$transaction(
    async (tx) => {
      await tx.$executeRaw`SET LOCAL session_replication_role = replica`;
      for (const sql of insertAll) await tx.$executeRawUnsafe(sql.replace('$1', `'${collectionId}'`));
    },
    { timeout: 3_600_000 },
  );
  await db().$executeRaw`ANALYZE`;
}

/** The export's own question without an end, its values written into it because COPY takes none beside. */
function copyQuery(collectionId: string): string {
  const { text, values } = selectBirds({ collectionId, approvedOnly: true, since: null }, null, null);
  return text.replace(/\$(\d+)/g, (_, number) => {
    const value = values[Number(number) - 1];
    return typeof value === 'string' ? `'${value}'` : 'NULL';
  });
}

async function timed(what: string, work: () => Promise<unknown>): Promise<number> {
  const [start, before] = [performance.now(), process.cpuUsage()];
  await work();
  const { user, system } = process.cpuUsage(before);
  const wallS = (performance.now() - start) / 1000;
  process.stdout.write(
    `${what.padEnd(44)} ${wallS.toFixed(1)} s, own ${((user + system) / 1e6).toFixed(1)} s\n`,
  );
  return wallS;
}

/** The archive of an actor's collection in one pass, in this process: seconds, and memory before and at most in MB. */
async function measureExport(actor: Actor): Promise<void> {
  const folder = await mkdtemp(join(tmpdir(), 'export-bench-'));
  let mostRss = 0;
  const watch = setInterval(() => {
    mostRss = Math.max(mostRss, process.memoryUsage.rss());
  }, 50);
  const base = process.memoryUsage.rss();
  const file = join(folder, 'archive.zip');
  await timed('occurrence archive, one pass', async () => {
    const query = { birds: 'approved', places: 'shared' } as const;
    const { body } = await exportBirds(contextOf(actor), 'occurrences', query, 'https://lab.example');
    await pipeline(Readable.fromWeb(body as never), createWriteStream(file));
  });
  clearInterval(watch);
  const mb = (bytes: number) => (bytes / 1e6).toFixed(0);
  process.stdout.write(
    `memory ${mb(base)} MB before, ${mb(mostRss)} MB at most; file ${mb((await stat(file)).size)} MB\n`,
  );
  await rm(folder, { recursive: true, force: true });
}

/** In a process of its own, so that what filled the database is not counted, with a heap that cannot hold the birds. */
async function measureApart(actor: Actor): Promise<number> {
  const begun = performance.now();
  // One helping thread and two pools of the C library: each keeps what it once took.
  const flags = [
    '--max-old-space-size=96',
    '--max-semi-space-size=4',
    '--v8-pool-size=1',
    '--conditions=react-server',
  ];
  const child = spawn(
    process.execPath,
    [...flags, '--import', 'tsx', fileURLToPath(import.meta.url), '--as', JSON.stringify(actor)],
    { stdio: 'inherit', env: { ...process.env, MALLOC_ARENA_MAX: '2' } },
  );
  const [code] = await once(child, 'exit');
  if (code !== 0) throw new Error(`The export ended with ${code}.`);
  return (performance.now() - begun) / 1000;
}

async function main(): Promise<void> {
  const { values, positionals } = parseArgs({ options: { as: { type: 'string' } }, allowPositionals: true });
  if (values.as !== undefined) {
    await measureExport(JSON.parse(values.as) as Actor);
  } else {
    const count = Number(positionals[0] ?? 1_000_000);
    const collectionId = await makeCollection(db());
    const curator = await makeActor(db(), collectionId, 'curator');
    await timed(`${count} birds written`, () => fill(collectionId, curator.personId ?? '', count));
    const copyS = await timed('COPY of the same query, thrown away', () =>
      db().$executeRawUnsafe(`COPY (${copyQuery(collectionId)}) TO PROGRAM 'cat > /dev/null' (FORMAT csv)`),
    );
    const exportS = await measureApart(curator);
    process.stdout.write(`${(exportS / copyS).toFixed(2)} times COPY, the start of the process included\n`);
  }
  await closeDb();
}

void main();
