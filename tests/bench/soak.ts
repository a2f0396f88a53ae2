import { readdir } from 'node:fs/promises';
import { setTimeout } from 'node:timers/promises';
import { type Act, listActs } from './acts';
import { runRound } from './load';
import type { BenchPerson } from './person';
import { residentMb } from './server';
import { EVERY_S, type Soak, type SoakSample } from './soak-figures';

const USERS = 20;
const WRITES = ['salvage', 'bench autosave'];

/** Twenty people do all reads in turn, and a write after each five, as fast as they are answered. */
export async function soak(person: BenchPerson, pid: number, minutes: number): Promise<Soak> {
  await person.refresh();
  const acts = await listActs(person.pool, person.actor.collectionId);
  const reads = acts.filter(({ kind }) => kind === 'read');
  const writes = acts.filter(({ name }) => WRITES.includes(name));
  const samples: SoakSample[] = [];
  let isOver = false;
  const watching = (async () => {
    for (let atS = 0; !isOver; atS += EVERY_S) {
      samples.push({ atS, ...(await look(person, pid)) });
      console.log(`soak, ${atS} s: ${samples.at(-1)?.residentMb.toFixed(0)} MB`);
      await setTimeout(EVERY_S * 1000);
    }
  })();
  let at = 0;
  const limit = { seconds: minutes * 60, times: Number.POSITIVE_INFINITY, pauseMs: 0 };
  const round = await runRound(USERS, limit, async () => {
    at += 1;
    const from: readonly Act[] = at % 6 === 0 ? writes : reads;
    const act = from[Math.floor(at / 6 + (at % 6)) % from.length];
    return act !== undefined && person.send(act.request(at));
  });
  isOver = true;
  await watching;
  const { count, failed, perSecond } = round;
  return { minutes, users: USERS, count, failed, perSecond, samples };
}

async function look({ pool }: BenchPerson, pid: number): Promise<Omit<SoakSample, 'atS'>> {
  const { rows } = await pool.query<{ count: number }>(
    `SELECT count(*)::int AS count FROM pg_stat_activity WHERE datname = current_database()`,
  );
  const files = process.platform === 'linux' ? await readdir(`/proc/${pid}/fd`) : [];
  return {
    residentMb: await residentMb(pid),
    openFiles: files.length,
    connections: rows[0]?.count ?? 0,
  };
}
