import { writeFile } from 'node:fs/promises';
import { cpus, totalmem } from 'node:os';
import type pg from 'pg';
import { Lifetime } from '@/lib/ops/lifetime';
import { closeDb, db } from '@/lib/platform/db';
import { listActs, openYear } from './acts';
import { runErrands } from './errands';
import { measureLive } from './live';
import { type ActOptions, measureActs, measureEmpty } from './measure-acts';
import { BESIDE } from './options';
import { BenchPerson } from './person';
import { MemoryWatch, residentMb, startServer } from './server';
import { soak } from './soak';
import type { Report } from './table';

/** What the bench asks of this program, as JSON in its one argument; `file` is where the report goes. */
export type SizeJob = ActOptions & {
  birds: number;
  collectionId: string;
  filledInS: number | null;
  soakMinutes: number;
  file: string;
};

/**
 * Measures one filled collection: started by the bench for each size, with the database and a folder for files in its
 * environment, so that nothing one size left in memory is in the next size's figures.
 */
const lifetime = new Lifetime();

async function main(): Promise<void> {
  const job = JSON.parse(process.argv[2] ?? '') as SizeJob;
  const isWhole = job.only === null || job.only.includes(BESIDE);
  const first = await startServer(lifetime);
  const stranger = await BenchPerson.make(first.url, job.collectionId);
  const { pool, actor } = stranger;
  await openYear(pool, job.collectionId, actor.personId ?? '');
  const [materials, machine] = [await countMaterials(job.collectionId), await sayMachine(pool)];
  console.log(`${materials} materials`);
  const atRest = await residentMb(first.pid);
  const salvage = (await listActs(pool, job.collectionId)).find(({ name }) => name === 'salvage');
  const live = isWhole && salvage !== undefined ? await measureLive(stranger, first.pid, salvage) : null;
  // Another server: two hundred pages have left their traces in this one's memory.
  await first.stop();
  const server = await startServer(lifetime);
  const person = await stranger.at(server.url);
  const memory = new MemoryWatch(server.pid);
  const empty = await measureEmpty(person, job, memory);
  const lines = await measureActs(person, job, memory);
  memory.end();
  const report: Report = {
    machine,
    on: new Date().toISOString().slice(0, 10),
    materials,
    birds: job.birds,
    filledInS: job.filledInS,
    startedInMs: first.startedInMs,
    empty,
    lines,
    memoryMb: { atRest, most: [...memory.most].map(([users, mb]) => ({ users, mb })) },
    live,
    errands: [],
    soak: null,
  };
  // Kept at once: what comes after may fail and take it along.
  await save(job.file, report);
  if (isWhole) report.errands = await runErrands(person);
  await save(job.file, report);
  if (job.soakMinutes > 0) report.soak = await soak(person, server.pid, job.soakMinutes);
  await save(job.file, report);
  await pool.end();
  await closeDb();
  await lifetime.end(0);
}

const save = (file: string, report: Report) => writeFile(file, `${JSON.stringify(report, null, 2)}\n`);
const countMaterials = (collectionId: string) => db().material.count({ where: { collectionId } });

async function sayMachine(pool: pg.Pool): Promise<string> {
  const { rows } = await pool.query<{ version: string }>(
    `SELECT current_setting('server_version') AS version`,
  );
  const [first] = cpus();
  return (
    `${cpus().length} × ${first?.model.trim() ?? 'processor'}, ${(totalmem() / 1e9).toFixed(0)} GB of memory, Node ${process.version}, ` +
    `PostgreSQL ${rows[0]?.version ?? 'of unknown version'}; the users, the server and the database share the machine.`
  );
}

main().catch((error) => lifetime.fail(error));
