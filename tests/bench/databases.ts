import path from 'node:path';
import { performance } from 'node:perf_hooks';
import type { Client } from 'pg';
import { connectTo } from '@/lib/ops/connect';
import { loadDemo, prepareDatabase } from '@/lib/ops/database-content';
import { startEmbeddedPostgres } from '@/lib/ops/embedded-postgres/server';
import type { Lifetime } from '@/lib/ops/lifetime';
import { migrateDatabase } from '@/lib/ops/migrate';
import { closeDb } from '@/lib/platform/db';
import { fillCollection } from './collection';

const PREFIX = 'furcula_bench';
const DEMO = `${PREFIX}_demo`;
const RUN = `${PREFIX}_run`;
const ADMIN = 'postgres';

/** A database to measure on, which may be spoilt; `filledInS` is null where the collection was kept. */
export type Ground = { url: string; collectionId: string; filledInS: number | null };

/** The databases of a bench on one server: one with the demo, one filled for each size, and a copy to work on. */
export class BenchDatabases {
  private constructor(
    private readonly urlOf: (database: string) => string,
    private readonly isKept: boolean,
  ) {}

  /** @param keep a folder or the address of a server as its superuser; null: a server in `dir`, thrown away with it */
  static async open(keep: string | null, dir: string, lifetime: Lifetime): Promise<BenchDatabases> {
    if (keep?.startsWith('postgres')) {
      const urlOf = (database: string) => Object.assign(new URL(keep), { pathname: `/${database}` }).href;
      return new BenchDatabases(urlOf, true);
    }
    const postgres = await startEmbeddedPostgres(path.join(keep ?? dir, 'postgres'));
    await lifetime.onEnd(() => postgres.stop());
    return new BenchDatabases(postgres.urlOf, keep !== null);
  }

  /** A filled collection of so many birds; a kept one is filled once and measured on a copy. */
  async ground(materials: number, birds: number): Promise<Ground> {
    const name = `${PREFIX}_${materials}`;
    if (!(await this.exists(name))) await this.create(name, await this.demo());
    const url = this.urlOf(name);
    await migrateDatabase(url);
    const found = await this.findCollection(url);
    const begun = performance.now();
    const collectionId = found ?? (await fillCollection(url, birds)).collectionId;
    const filledInS = found === null ? (performance.now() - begun) / 1000 : null;
    if (!this.isKept) return { url, collectionId, filledInS };
    await this.create(RUN, name);
    return { url: this.urlOf(RUN), collectionId, filledInS };
  }

  /** An empty, migrated database, in the place of the last one. */
  async empty(): Promise<string> {
    await this.create(RUN, null);
    await migrateDatabase(this.urlOf(RUN));
    return this.urlOf(RUN);
  }

  /** Removes what is not kept. */
  async drop(materials: number): Promise<void> {
    await this.command(
      `DROP DATABASE IF EXISTS "${this.isKept ? RUN : `${PREFIX}_${materials}`}" WITH (FORCE)`,
    );
  }

  private async demo(): Promise<string> {
    if (!(await this.exists(DEMO))) await this.create(DEMO, null);
    process.env.DATABASE_URL = this.urlOf(DEMO);
    await prepareDatabase(this.urlOf(DEMO));
    await loadDemo(this.urlOf(DEMO));
    await closeDb();
    return DEMO;
  }

  private async findCollection(url: string): Promise<string | null> {
    const { rows } = await this.with(url, (client) =>
      client.query<{ id: string }>(`SELECT id::text FROM "Collection" WHERE code LIKE 'BENCH-%'`),
    );
    return rows[0]?.id ?? null;
  }

  private async exists(name: string): Promise<boolean> {
    const { rowCount } = await this.with(this.urlOf(ADMIN), (client) =>
      client.query('SELECT FROM pg_database WHERE datname = $1', [name]),
    );
    return rowCount !== 0;
  }

  /** @param template the database of which it is a copy, on which nobody may be; null: an empty one */
  private async create(name: string, template: string | null): Promise<void> {
    await this.command(`DROP DATABASE IF EXISTS "${name}" WITH (FORCE)`);
    const from = template === null ? '' : ` TEMPLATE "${template}" STRATEGY file_copy`;
    await this.command(`CREATE DATABASE "${name}"${from}`);
  }

  private async command(sql: string): Promise<void> {
    await this.with(this.urlOf(ADMIN), (client) => client.query(sql));
  }

  private async with<T>(url: string, work: (client: Client) => Promise<T>): Promise<T> {
    const client = await connectTo(url);
    try {
      return await work(client);
    } finally {
      await client.end();
    }
  }
}
