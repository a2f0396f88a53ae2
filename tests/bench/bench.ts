import { mkdir, readFile, writeFile } from 'node:fs/promises';
import { cpus, totalmem } from 'node:os';
import path from 'node:path';
import { setInterval } from 'node:timers';
import { parseArgs } from 'node:util';
import pg from 'pg';
import { Lifetime } from '@/lib/ops/lifetime';
import { OperatorError } from '@/lib/ops/operator-error';
import { projectRoot } from '@/lib/ops/project';
import { makeScratchDir, removeScratchDir } from '@/lib/ops/scratch-dir';
import type { Actor } from '@/lib/platform/actor';
import { closeDb, db } from '@/lib/platform/db';
import { hashPassword } from '@/lib/platform/identity/passwords';
import { makeActor } from '@/seed/factories';
import { childrenOf } from '@/tests/ops/programs';
import { Stand, signIn } from '@/tests/torture/stand';
import { type Act, listActs, openYear, ROLES_OF_BENCH } from './acts';
import { fillCollection } from './collection';
import { type Measured, type Round, runRound, summarise } from './load';
import { recordStatements, type Statement } from './statements';
import { type Line, type Report, sayReport } from './table';

/**
 * `npm run bench [-- --materials 10000] [--rounds 3] [--seconds 3] [--only queue,claim]`: fills a collection and measures
 * the main reads and writes over HTTP at 1, 20 and 100 users, beside the reads' statements sent bare through pg and a
 * route that only finds out who asks. On a PostgreSQL and a production server of its own; or, where FURCULA_URL and
 * DATABASE_URL are both given, on that server (FURCULA_PID: whose memory to see). Writes tests/output/bench.
 */
const USERS = [1, 20, 100];
const PER_BIRD = 4;
const LEAST_MATERIALS = 1000;
/** As many connections as the server takes by default. */
const CONNECTIONS = 20;
const SAMPLES = 5;
const PASSWORD = 'a password for the bench only';
const EMPTY = { method: 'POST' as const, path: '/api/places/read', body: { coordinates: '40.0, -83.0' } };

type Options = { materials: number; rounds: number; seconds: number; only: readonly string[] | null };
type Target = { url: string; databaseUrl: string; pid: number | null };
type Ground = { actor: Actor; cookie: string; pool: pg.Pool; acts: Act[]; collectionId: string };

const lifetime = new Lifetime();

function readOptions(): Options {
  const { values } = parseArgs({
    options: {
      materials: { type: 'string', default: '1000000' },
      rounds: { type: 'string', default: '3' },
      seconds: { type: 'string', default: '3' },
      only: { type: 'string' },
    },
  });
  const [materials = 0, rounds = 0, seconds = 0] = [values.materials, values.rounds, values.seconds].map(
    Number,
  );
  if (!Number.isSafeInteger(materials) || materials < LEAST_MATERIALS)
    throw new OperatorError(`--materials is a whole number, ${LEAST_MATERIALS} or more.`);
  if (!Number.isSafeInteger(rounds) || rounds < 1 || !(seconds > 0))
    throw new OperatorError('--rounds is a whole number, 1 or more; --seconds is more than 0.');
  return { materials, rounds, seconds, only: values.only?.split(',') ?? null };
}

/** The server that was named, or one of our own. */
async function findTarget(): Promise<Target> {
  const { FURCULA_URL, DATABASE_URL, FURCULA_PID } = process.env;
  if (FURCULA_URL !== undefined && DATABASE_URL !== undefined) {
    const pid = FURCULA_PID === undefined ? null : Number(FURCULA_PID);
    return { url: FURCULA_URL, databaseUrl: DATABASE_URL, pid };
  }
  if (FURCULA_URL !== undefined)
    throw new OperatorError('Say DATABASE_URL too: the database of that server.');
  const dir = makeScratchDir('bench');
  await lifetime.onEnd(() => removeScratchDir(dir));
  const stand = await Stand.start(dir, false, lifetime);
  return { url: stand.address, databaseUrl: stand.databaseUrl, pid: stand.webPid ?? null };
}

/** Somebody who may do everything here, signed in, and what there is to do. */
async function prepare({ url, databaseUrl }: Target, collectionId: string): Promise<Ground> {
  const actor = await makeActor(db(), collectionId, ...ROLES_OF_BENCH);
  const { email } = await db().person.update({
    where: { id: actor.personId ?? '' },
    data: { passwordDigest: await hashPassword(PASSWORD) },
  });
  const pool = new pg.Pool({ connectionString: databaseUrl, max: CONNECTIONS });
  await openYear(pool, collectionId, actor.personId ?? '');
  const acts = await listActs(pool, collectionId);
  return { actor, pool, acts, collectionId, cookie: await signIn(url, email, PASSWORD) };
}

type Sent = ReturnType<Act['request']>;

async function send(url: string, cookie: string, { method, path: at, body }: Sent): Promise<boolean> {
  const answer = await fetch(`${url}${at}`, {
    method,
    headers: { cookie, origin: url, 'content-type': 'application/json' },
    body: body === undefined ? undefined : JSON.stringify(body),
  });
  await answer.arrayBuffer();
  return answer.ok;
}

/** A first round warms up and does not count. `times` is for all rounds together. */
async function measure(
  users: number,
  { rounds, seconds }: Options,
  times: number,
  once: () => Promise<boolean>,
): Promise<Measured | null> {
  const limit = { seconds, times: Math.floor(times / (rounds + 1)) };
  if (limit.times < 1) return null;
  await runRound(users, { seconds: seconds / 3, times: limit.times }, once);
  const all: Round[] = [];
  for (let round = 0; round < rounds; round += 1) all.push(await runRound(users, limit, once));
  return summarise(all);
}

/** What a read sends, of a few records: to be sent again without the server. */
async function statementsOf(act: Act, actor: Actor): Promise<Statement[][]> {
  const samples: Statement[][] = [];
  for (let at = 0; at < SAMPLES; at += 1) {
    const sent = await recordStatements(() => act.call(actor, at * 7));
    // A first look at a rare bird's sheet is also written down: only the reading is compared.
    samples.push(sent.filter(({ text }) => /^\s*(SELECT|WITH)/i.test(text)));
  }
  return samples;
}

async function measureAct(act: Act, target: Target, ground: Ground, options: Options): Promise<Line[]> {
  const { cookie, pool, actor } = ground;
  // What a write sent cannot be sent again: it is measured without the bare side.
  const samples = act.kind === 'read' ? await statementsOf(act, actor) : null;
  const lines: Line[] = [];
  let at = 0;
  for (const users of USERS) {
    const http = await measure(users, options, act.times / USERS.length, () => {
      at += 1;
      return send(target.url, cookie, act.request(at - 1));
    });
    if (http === null) continue;
    const bare =
      samples === null
        ? null
        : await measure(users, options, Number.POSITIVE_INFINITY, async () => {
            at += 1;
            for (const { text, values } of samples[at % samples.length] ?? []) await pool.query(text, values);
            return true;
          });
    lines.push({ act: act.name, kind: act.kind, users, http, bare });
    console.log(`${act.name}, ${users} users: ${http.p50.toFixed(1)} ms, ${http.failed} failed`);
  }
  return lines;
}

/** Resident memory of a process and its children, in MB; of Linux only. */
async function residentMb(pid: number): Promise<number> {
  const sizes = await Promise.all(
    [pid, ...childrenOf(pid)].map(async (one) => {
      const status = await readFile(`/proc/${one}/status`, 'utf8').catch(() => '');
      return Number(/VmRSS:\s+(\d+)/.exec(status)?.[1] ?? 0) / 1000;
    }),
  );
  return sizes.reduce((sum, size) => sum + size, 0);
}

async function main(): Promise<void> {
  const options = readOptions();
  const target = await findTarget();
  process.env.DATABASE_URL = target.databaseUrl;
  const birds = Math.ceil(options.materials / PER_BIRD);
  const begun = performance.now();
  const { collectionId } = await fillCollection(target.databaseUrl, birds);
  const filledInS = (performance.now() - begun) / 1000;
  const materials = await db().material.count({ where: { collectionId } });
  console.log(`${materials} materials in ${filledInS.toFixed(0)} s`);
  const ground = await prepare(target, collectionId);
  const atRest = target.pid === null ? 0 : await residentMb(target.pid);
  let most = atRest;
  const watch = setInterval(async () => {
    if (target.pid !== null) most = Math.max(most, await residentMb(target.pid));
  }, 500);
  const empty: Report['empty'] = [];
  for (const users of USERS) {
    const http = await measure(users, options, Number.POSITIVE_INFINITY, () =>
      send(target.url, ground.cookie, EMPTY),
    );
    if (http !== null) empty.push({ users, http });
  }
  const lines: Line[] = [];
  for (const act of ground.acts)
    if (options.only?.includes(act.name) ?? true)
      lines.push(...(await measureAct(act, target, ground, options)));
  clearInterval(watch);
  const memoryMb = target.pid === null ? null : { atRest, most };
  const report: Report = {
    machine: await sayMachine(ground.pool),
    materials,
    birds,
    filledInS,
    empty,
    lines,
    memoryMb,
  };
  await ground.pool.end();
  await closeDb();
  const folder = path.join(projectRoot, 'tests/output/bench');
  await mkdir(folder, { recursive: true });
  const name = path.join(folder, String(options.materials));
  await writeFile(`${name}.json`, `${JSON.stringify(report, null, 2)}\n`);
  await writeFile(`${name}.md`, sayReport(report));
  console.log(sayReport(report));
  await lifetime.end(0);
}

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

main().catch(async (error) => {
  console.error(error instanceof OperatorError ? error.message : error);
  await lifetime.end(1);
});
