import type { Client } from 'pg';
import type { Ids } from './requests';

/** Attempts by people and machines, and when a session was last used; no record of the collection. */
const COUNTERS = ['rate_limit', 'SignInSession'];

/**
 * Tells whether anything was written since it was last asked. Usually one question is enough: no transaction got a
 * number. Where one did, the rows of every table are counted, and those that are of a newer transaction.
 */
export class Watch {
  private nextTransaction = '';
  private counts = new Map<string, number>();

  private constructor(
    private readonly client: Client,
    private readonly tables: readonly string[],
  ) {}

  static async over(client: Client): Promise<Watch> {
    const { rows } = await client.query<{ name: string }>(
      `SELECT table_name AS name FROM information_schema.tables WHERE table_schema = 'public'
       AND table_type = 'BASE TABLE' AND NOT table_name = ANY($1) ORDER BY 1`,
      [COUNTERS],
    );
    const watch = new Watch(
      client,
      rows.map(({ name }) => name),
    );
    await watch.changes();
    return watch;
  }

  /** Tables that changed, each with how: 'Bird: 3 → 4 rows', 'Bird: 1 row written'. */
  async changes(): Promise<string[]> {
    const before = this.nextTransaction;
    const { rows } = await this.client.query<{ next: string }>(
      'SELECT pg_snapshot_xmax(pg_current_snapshot())::text AS next',
    );
    this.nextTransaction = rows[0]?.next ?? '';
    if (this.nextTransaction === before) return [];
    const found = await this.client.query<{ name: string; rows: number; written: number }>(
      this.tables
        .map(
          (name) =>
            `SELECT '${name}' AS name, count(*)::int AS rows, count(*) FILTER (WHERE xmin::text::bigint >= ${before || '9223372036854775807'})::int AS written FROM "${name}"`,
        )
        .join(' UNION ALL '),
    );
    const changes: string[] = [];
    for (const { name, rows: now, written } of found.rows) {
      const then = this.counts.get(name) ?? now;
      if (then !== now) changes.push(`${name}: ${then} → ${now} rows`);
      else if (written > 0) changes.push(`${name}: ${written} rows written`);
      this.counts.set(name, now);
    }
    return changes;
  }

  /** Ids of rows of every table that has a uuid for one, the first ones. */
  async readIds(leftOut: ReadonlySet<string> = new Set()): Promise<Ids> {
    const { rows: tables } = await this.client.query<{ name: string; key: string }>(
      `SELECT table_name AS name, CASE WHEN bool_or(column_name = 'id') THEN 'id' ELSE 'materialId' END AS key
       FROM information_schema.columns WHERE table_schema = 'public' AND data_type = 'uuid'
         AND (column_name = 'id' OR column_name = 'materialId' AND table_name = 'Vial') GROUP BY 1`,
    );
    const ids = new Map<string, string[]>();
    for (const { name, key } of tables) {
      const { rows } = await this.client.query<{ id: string }>(
        `SELECT "${key}"::text AS id FROM "${name}" ORDER BY 1 LIMIT 40`,
      );
      ids.set(
        name,
        rows.map(({ id }) => id).filter((id) => !leftOut.has(id)),
      );
    }
    return ids;
  }
}
