import { type Act, listActs } from './acts';
import { type Bare, bareRead, bareWrite } from './bare';
import { FIRST_WARM_UP_S, measure } from './load';
import type { BenchPerson } from './person';
import type { MemoryWatch } from './server';
import type { Base, Line } from './table';

export const USERS = [1, 20, 100];
/** Of a write's records, so much for each number of users. */
const SHARES = [0.1, 0.3, 0.6];
/** So many people, each with so long a pause between an answer and the next act. */
export const THINKING = { users: 20, pauseMs: 1000, seconds: 6 };
/** Of a write's records; the others are for its statements sent bare. */
const PART_FOR_HTTP = 0.8;
const EMPTY = { method: 'POST' as const, path: '/api/places/read', body: { coordinates: '40.0, -83.0' } };

export type ActOptions = { rounds: number; seconds: number; only: readonly string[] | null };

const warmUpOf = (level: number, seconds: number): number => (level === 0 ? FIRST_WARM_UP_S : seconds / 3);

/** A route that only finds out who asks, at each number of users. */
export async function measureEmpty(
  person: BenchPerson,
  { rounds, seconds }: ActOptions,
  memory: MemoryWatch,
): Promise<Base[]> {
  const empty: Base[] = [];
  for (const [level, users] of USERS.entries()) {
    memory.users = users;
    const warmUpS = warmUpOf(level, seconds);
    const limit = { rounds, seconds, warmUpS, times: Number.POSITIVE_INFINITY, pauseMs: 0 };
    const http = await measure(users, limit, () => person.send(EMPTY));
    if (http !== null) empty.push({ users, http });
  }
  return empty;
}

/** Every act that was asked for, with its bare side; reads also by people who pause. */
export async function measureActs(
  person: BenchPerson,
  options: ActOptions,
  memory: MemoryWatch,
): Promise<Line[]> {
  const lines: Line[] = [];
  for (const act of await listActs(person.pool, person.actor.collectionId)) {
    if (options.only?.includes(act.name) === false) continue;
    await person.refresh();
    lines.push(...(await measureAct(act, person, options, memory)));
  }
  return lines;
}

async function measureAct(
  act: Act,
  person: BenchPerson,
  { rounds, seconds }: ActOptions,
  memory: MemoryWatch,
): Promise<Line[]> {
  const { name: actName, kind, isKeyed } = act;
  const forHttp = Math.floor(act.times * PART_FOR_HTTP);
  const lines: Line[] = [];
  let at = 0;
  const once = () => {
    at += 1;
    return person.send(act.request(at - 1));
  };
  const samples = kind === 'read' ? await bareRead(act, person.actor, person.pool) : null;
  for (const [level, users] of USERS.entries()) {
    memory.users = users;
    const times = Math.floor(forHttp * (SHARES[level] ?? 0));
    const limit = { rounds, seconds, warmUpS: seconds / 3, times: Number.POSITIVE_INFINITY, pauseMs: 0 };
    const http = await measure(users, { ...limit, times, warmUpS: warmUpOf(level, seconds) }, once);
    if (http === null) continue;
    memory.users = 0;
    // Recorded anew for a write: numbers and versions have moved on.
    const send: Bare =
      samples ?? (await bareWrite(act, person.actor, person.pool, firstBare(act, at, forHttp)));
    const bare = await measure(users, limit, send);
    lines.push({ act: actName, kind, isKeyed, users, pauseMs: 0, http, bare });
    console.log(`${actName}, ${users} users: ${http.p50.toFixed(1)} ms, ${http.failed} failed`);
  }
  if (kind === 'read') {
    const { users, pauseMs, seconds: long } = THINKING;
    const limit = { rounds: 1, seconds: long, warmUpS: long / 3, times: Number.POSITIVE_INFINITY, pauseMs };
    const http = await measure(users, limit, once);
    if (http !== null) lines.push({ act: actName, kind, isKeyed, users, pauseMs, http, bare: null });
  }
  return lines;
}

/** Where the records begin that HTTP does not use; where there is no end of them, after those it used. */
const firstBare = (act: Act, used: number, forHttp: number): number =>
  Number.isFinite(act.times) ? forHttp : used;
