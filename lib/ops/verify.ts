import type { Client } from 'pg';
import { connectTo } from './connect';
import { INVARIANTS } from './invariants';

export type InvariantOutcome = {
  id: string;
  says: string;
  broken: number;
  examples: Record<string, unknown>[];
};

const EXAMPLES = 5;

/** Asks every invariant of a database; an outcome with `broken` above 0 names the first rows that break it. */
export async function askInvariants(databaseUrl: string): Promise<InvariantOutcome[]> {
  const client: Client = await connectTo(databaseUrl);
  try {
    const outcomes: InvariantOutcome[] = [];
    for (const { id, says, sql } of INVARIANTS) {
      const { rows } = await client.query<Record<string, unknown>>(sql);
      outcomes.push({ id, says, broken: rows.length, examples: rows.slice(0, EXAMPLES) });
    }
    return outcomes;
  } finally {
    await client.end();
  }
}
