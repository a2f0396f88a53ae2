import 'server-only';
import pg from 'pg';
import { RateLimiterPostgres, RateLimiterRes } from 'rate-limiter-flexible';
import { settings } from './env';
import { log } from './log';

type Limit = { points: number; seconds: number };
const SIGN_IN: Limit = { points: 10, seconds: 15 * 60 };

const holder = globalThis as unknown as {
  furculaLimits?: { pool: pg.Pool; byLimit: Map<string, RateLimiterPostgres> };
};

function openPool(): pg.Pool {
  const pool = new pg.Pool({ connectionString: settings().DATABASE_URL, max: 2 });
  // A connection that breaks while nobody uses it would end the process; the pool makes another one when asked.
  pool.on('error', (error) => log().warn({ err: error }, 'a connection to the database broke'));
  return pool;
}

function limiter(limit: Limit): RateLimiterPostgres {
  holder.furculaLimits ??= { pool: openPool(), byLimit: new Map() };
  const { pool, byLimit } = holder.furculaLimits;
  const name = `${limit.points}/${limit.seconds}`;
  const found = byLimit.get(name);
  if (found !== undefined) return found;
  const made = new RateLimiterPostgres({
    storeClient: pool,
    tableName: 'rate_limit',
    tableCreated: true,
    keyPrefix: name,
    points: limit.points,
    duration: limit.seconds,
    clearExpiredByTimeout: false,
  });
  byLimit.set(name, made);
  return made;
}

/** Counts one attempt. Returns 0 when allowed, else the seconds to wait. */
export async function consumeAttempt(key: string, limit: Limit = SIGN_IN): Promise<number> {
  try {
    await limiter(limit).consume(key);
    return 0;
  } catch (refusal) {
    if (refusal instanceof RateLimiterRes) return Math.max(1, Math.ceil(refusal.msBeforeNext / 1000));
    throw refusal;
  }
}

export async function forgiveAttempts(key: string, limit: Limit = SIGN_IN): Promise<void> {
  await limiter(limit).delete(key);
}
