import { fork } from 'node:child_process';
import { existsSync, readFileSync } from 'node:fs';
import { mkdir, readFile, writeFile } from 'node:fs/promises';
import path from 'node:path';
import { generateClient } from '@/lib/ops/generate';
import { Lifetime } from '@/lib/ops/lifetime';
import { OperatorError } from '@/lib/ops/operator-error';
import { projectRoot } from '@/lib/ops/project';
import { makeScratchDir, removeScratchDir } from '@/lib/ops/scratch-dir';
import { findStaleness, startBuild } from '@/lib/ops/web';
import { BenchDatabases } from './databases';
import { BESIDE, type Options, readOptions } from './options';
import { runPrograms } from './programs';
import { type ProgramSaid, sayBench, writeInto } from './readme';
import { SECRET } from './server';
import type { SizeJob } from './size-command';
import { type Report, sayReport } from './table';

/**
 * `npm run bench [-- --materials 10000,1000000] [--keep folder] [--soak 10] [--readme] …`: fills a collection of each
 * size, measures it on a production server, and writes tests/output/bench: figures and a table for each size, and one
 * table over the sizes. DEVELOPERS.md, Scale, says what the arguments do.
 */
const PER_BIRD = 4;
const FOLDER = path.join(projectRoot, 'tests/output/bench');
const PROGRAMS_FILE = path.join(FOLDER, 'programs.json');
const README = path.join(projectRoot, 'README.md');
const fileOf = (materials: number): string => path.join(FOLDER, `${materials}.json`);

const lifetime = new Lifetime();

async function main(): Promise<void> {
  const options = readOptions(process.argv.slice(2));
  await mkdir(FOLDER, { recursive: true });
  if (!options.isSaved) await measureAll(options);
  const reports = options.materials.map((materials) => readSaved(materials));
  const programs = existsSync(PROGRAMS_FILE)
    ? (JSON.parse(readFileSync(PROGRAMS_FILE, 'utf8')) as ProgramSaid[])
    : [];
  for (const [at, report] of reports.entries())
    await writeFile(path.join(FOLDER, `${options.materials[at]}.md`), sayReport(report));
  const table = sayBench(reports, programs);
  await writeFile(path.join(FOLDER, 'table.md'), `${table}\n`);
  if (options.isReadme) await writeFile(README, writeInto(await readFile(README, 'utf8'), table));
  console.log(table);
  await lifetime.end(0);
}

async function measureAll(options: Options): Promise<void> {
  generateClient();
  const digest = findStaleness();
  if (digest !== undefined) await (await startBuild(digest)).finished;
  const dir = makeScratchDir('bench');
  await lifetime.onEnd(() => removeScratchDir(dir));
  process.env.NEXTAUTH_SECRET = SECRET;
  process.env.FURCULA_DATA = dir;
  const databases = await BenchDatabases.open(options.keep, dir, lifetime);
  for (const materials of options.materials) {
    await measureSize(databases, materials, options);
    await databases.drop(materials);
  }
  if (options.only?.includes(BESIDE) === false) return;
  const programs = await runPrograms(() => databases.empty());
  await writeFile(PROGRAMS_FILE, `${JSON.stringify(programs, null, 2)}\n`);
}

/** In a process of its own: the database of a process is chosen once. Only the largest size is soaked. */
async function measureSize(databases: BenchDatabases, materials: number, options: Options): Promise<void> {
  const { rounds, seconds, only, soakMinutes } = options;
  const birds = Math.ceil(materials / PER_BIRD);
  const { url, collectionId, filledInS } = await databases.ground(materials, birds);
  if (filledInS !== null) console.log(`${birds} birds filled in ${filledInS.toFixed(0)} s`);
  const job: SizeJob = {
    rounds,
    seconds,
    only,
    birds,
    collectionId,
    filledInS,
    soakMinutes: materials === options.materials.at(-1) ? soakMinutes : 0,
    file: fileOf(materials),
  };
  const child = fork(path.join(projectRoot, 'tests/bench/size-command.ts'), [JSON.stringify(job)], {
    cwd: projectRoot,
    env: { ...process.env, DATABASE_URL: url },
  });
  await lifetime.onEnd(() => void child.kill('SIGTERM'));
  const code = await new Promise<number | null>((resolve) => child.once('exit', resolve));
  if (code !== 0)
    throw new OperatorError(`Measuring ${materials} materials failed; the lines above say why.`);
}

function readSaved(materials: number): Report {
  const file = fileOf(materials);
  if (!existsSync(file))
    throw new OperatorError(`${materials} materials were not measured yet: leave --saved away.`);
  return JSON.parse(readFileSync(file, 'utf8')) as Report;
}

main().catch((error) => lifetime.fail(error));
