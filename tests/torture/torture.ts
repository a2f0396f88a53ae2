import { fork } from 'node:child_process';
import { fileURLToPath } from 'node:url';
import { parseArgs } from 'node:util';
import { Client } from 'pg';
import { Lifetime } from '@/lib/ops/lifetime';
import { OperatorError } from '@/lib/ops/operator-error';
import { makeScratchDir, removeScratchDir } from '@/lib/ops/scratch-dir';
import { Dice } from '@/seed/scenario/random';
import { describeTally, type Send, sendBadRequests } from './bad-requests';
import { describeDurability, tryDurability } from './durability';
import { sendRawRequests } from './raw-requests';
import { Requests } from './requests';
import { onePersonARole, Stand } from './stand';
import { listTargets } from './targets';
import { Watch } from './watch';

/**
 * `npm run torture [-- --requests 20000 --kills 200 --seed 1]`: on a PostgreSQL and a production server of its own, with
 * the demo in it. First bad requests over HTTP to every route; then processes are killed with SIGKILL in the midst of
 * writes. Prints its figures; exit code 1 on any fault. The same seed sends the same requests.
 */
const lifetime = new Lifetime();

async function main(): Promise<void> {
  const { requests, kills, seed, part } = readOptions();
  if (part === undefined) {
    console.log(`seed ${seed}`);
    // Each part in a process of its own: settings are read once a process, and each has its own database.
    const codes = [
      requests > 0 ? await runPart('requests', requests, seed) : 0,
      kills > 0 ? await runPart('kills', kills, seed) : 0,
    ];
    await lifetime.end(codes.every((code) => code === 0) ? 0 : 1);
    return;
  }
  const lines = await (part === 'requests'
    ? withStand(true, (stand) => badRequests(stand, requests, seed))
    : withStand(false, (stand) => killing(stand, kills, seed)));
  for (const line of lines) console.log(line);
  const faults = lines.filter((line) => line.startsWith('FAULT')).length;
  console.log(faults === 0 ? 'No fault.' : `${faults} faults.`);
  await lifetime.end(faults === 0 ? 0 : 1);
}

type Part = 'requests' | 'kills';

/** Runs this file again for one part; it ends with us, whatever ends us. */
async function runPart(part: Part, count: number, seed: number): Promise<number> {
  const child = fork(
    fileURLToPath(import.meta.url),
    [`--part=${part}`, `--${part}=${count}`, `--seed=${seed}`],
    {
      execArgv: process.execArgv,
    },
  );
  return new Promise((resolve) => child.once('exit', (code) => resolve(code ?? 1)));
}

function readOptions(): { requests: number; kills: number; seed: number; part: Part | undefined } {
  const { values } = parseArgs({
    options: {
      requests: { type: 'string', default: '20000' },
      kills: { type: 'string', default: '200' },
      seed: { type: 'string', default: String(Date.now() % 1_000_000) },
      part: { type: 'string' },
    },
  });
  const [requests = 0, kills = 0, seed = 0] = [values.requests, values.kills, values.seed].map(Number);
  if (![requests, kills, seed].every((number) => Number.isSafeInteger(number) && number >= 0))
    throw new OperatorError('--requests, --kills and --seed are whole numbers, 0 or more.');
  const part = (['requests', 'kills'] as const).find((one) => one === values.part);
  return { requests, kills, seed, part };
}

async function withStand<T>(isDisposable: boolean, work: (stand: Stand) => Promise<T>): Promise<T> {
  const dir = makeScratchDir('torture');
  await lifetime.onEnd(() => removeScratchDir(dir));
  const stand = await Stand.start(dir, isDisposable, lifetime);
  try {
    return await work(stand);
  } finally {
    await stand.stop();
  }
}

async function badRequests(stand: Stand, count: number, seed: number): Promise<string[]> {
  // Written by `npm start`, `npm test` and `npm run build`.
  const { routeModules } = await import('@/app/api/openapi.json/routes.generated');
  const { cookies, ids } = await stand.signIn(onePersonARole);
  const client = new Client({ connectionString: stand.databaseUrl });
  await client.connect();
  try {
    const watch = await Watch.over(client);
    const requests = new Requests(new Dice(seed), listTargets(routeModules), await watch.readIds(ids));
    const send = makeSender(stand.address, cookies);
    const tally = await sendBadRequests(count, { requests, watch, send, say: (text) => console.log(text) });
    const raw = await sendRawRequests(stand.address, cookies.get('curator') ?? '');
    return [
      ...describeTally(tally),
      `${raw.sent} requests that no schema describes`,
      ...raw.faults.map((fault) => `FAULT ${fault}`),
    ];
  } finally {
    await client.end();
  }
}

/** Each request comes from an address of its own, so that limits by address do not hide what is behind them. */
function makeSender(address: string, cookies: ReadonlyMap<string, string>): Send {
  let number = 0;
  return (plan) => {
    number += 1;
    return fetch(`${address}${plan.address}`, {
      method: plan.target.method,
      headers: {
        ...plan.headers,
        cookie: cookies.get(plan.role) ?? '',
        'x-forwarded-for': `10.${number >> 16}.${(number >> 8) % 256}.${number % 256}`,
      },
      body: plan.body as BodyInit | undefined,
      redirect: 'manual',
    });
  };
}

async function killing(stand: Stand, kills: number, seed: number): Promise<string[]> {
  const { cookies, ids } = await stand.signIn({
    writer: ['preparator', 'curator', 'registrar', 'permit-officer'],
  });
  const found = await tryDurability(kills, {
    stand,
    cookie: cookies.get('writer') ?? '',
    personId: [...ids][0] ?? '',
    dice: new Dice(seed),
    say: (text) => console.log(text),
  });
  return describeDurability(found);
}

main().catch((error) => lifetime.fail(error));
