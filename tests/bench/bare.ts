import type { Pool } from 'pg';
import type { Actor } from '@/lib/platform/actor';
import type { Act } from './acts';
import { recordStatements, type Statement } from './statements';

/** As many connections as the server takes by default. */
export const CONNECTIONS = 20;
const READ_SAMPLES = 5;

/** Sends an act's own statements once, without the server. */
export type Bare = () => Promise<boolean>;

/** A few records' statements in turn. A first look at a rare bird's sheet is also written down: only the reading is sent. */
export async function bareRead(act: Act, actor: Actor, pool: Pool): Promise<Bare> {
  const samples: Statement[][] = [];
  for (let at = 0; at < READ_SAMPLES; at += 1) {
    const sent = await recordStatements(() => act.call(actor, at * 7));
    samples.push(sent.filter(({ text }) => /^\s*(SELECT|WITH)/i.test(text)));
  }
  let turn = 0;
  return async () => {
    turn += 1;
    for (const { text, values } of samples[turn % samples.length] ?? []) await pool.query(text, values);
    return true;
  };
}

/**
 * The statements of an act on records that nobody works on, each recorded in a transaction that was undone. They are sent
 * in one transaction that goes back to its beginning before it commits: nothing changes, so they can be sent again, and
 * the disk is waited for as after any write. Where there are fewer records than connections, these wait for each other.
 * @param from the first record that is kept for this
 */
export async function bareWrite(act: Act, actor: Actor, pool: Pool, from: number): Promise<Bare> {
  const samples: Statement[][] = [];
  for (let at = from; at < Math.min(from + CONNECTIONS, act.times); at += 1)
    samples.push(await recordStatements(() => act.call(actor, at), true));
  const free = [...samples];
  let turn = 0;
  return async () => {
    const client = await pool.connect();
    const own = free.pop();
    turn += 1;
    try {
      await client.query('BEGIN');
      await client.query('SAVEPOINT beginning');
      for (const { text, values } of own ?? samples[turn % samples.length] ?? [])
        await client.query(text, values);
      await client.query('SET CONSTRAINTS ALL IMMEDIATE');
      await client.query('ROLLBACK TO SAVEPOINT beginning');
      await client.query('COMMIT');
      return true;
    } finally {
      if (own !== undefined) free.push(own);
      client.release();
    }
  };
}
