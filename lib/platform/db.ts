import 'server-only';
import { PrismaPg } from '@prisma/adapter-pg';
import { settings } from './env';
import { type Prisma, PrismaClient } from './generated/prisma/client';
import { statementNames } from './statement-names';

export type Db = PrismaClient;
export type Tx = Prisma.TransactionClient;

/** What Prisma makes of a question is kept for the next of its shape: room for all shapes there are. */
const KEPT_PLANS = 1_000;

const holder = globalThis as unknown as { furculaDb?: PrismaClient };

/** The process's one connection pool. @throws Error when DATABASE_URL is not set. */
export function db(): PrismaClient {
  if (holder.furculaDb === undefined) {
    const { DATABASE_URL, DATABASE_POOL, DATABASE_PREPARED } = settings();
    if (DATABASE_URL === undefined) throw new Error('DATABASE_URL is not set: start with `npm start`.');
    holder.furculaDb = new PrismaClient({
      adapter: new PrismaPg(
        { connectionString: DATABASE_URL, max: DATABASE_POOL },
        DATABASE_PREPARED ? { statementNameGenerator: statementNames() } : undefined,
      ),
      queryPlanCacheMaxSize: KEPT_PLANS,
    });
  }
  return holder.furculaDb;
}

/** Closes the pool (scripts and tests). */
export async function closeDb(): Promise<void> {
  await holder.furculaDb?.$disconnect();
  holder.furculaDb = undefined;
}
