import { Logger, parseCronItems, type Runner, run, type TaskList } from 'graphile-worker';
import { Client } from 'pg';
import { afterEach, beforeEach, describe, expect, inject, it, vi } from 'vitest';
import { cronItems } from '@/lib/jobs';
import { listMigrations } from '@/lib/ops/migrations-folder';
import { runProgram } from './programs';

/** Processes that start at the same moment on one database. */
let client: Client;
let url: string;
const name = `replicas_${process.env.VITEST_POOL_ID ?? '0'}`;

async function onServer(sql: string): Promise<void> {
  const admin = new Client({ connectionString: inject('adminUrl') });
  await admin.connect();
  await admin.query(sql).finally(() => admin.end());
}

beforeEach(async () => {
  await onServer(`drop database if exists "${name}" with (force)`);
});
afterEach(async () => {
  await client.end();
  await onServer(`drop database if exists "${name}" with (force)`);
});

async function openDatabase(template: string): Promise<void> {
  await onServer(`create database "${name}" template "${template}"`);
  const address = new URL(inject('adminUrl'));
  address.pathname = `/${name}`;
  url = address.href;
  client = new Client({ connectionString: url });
  await client.connect();
}

const count = async (sql: string, ...values: unknown[]): Promise<number> =>
  (await client.query<{ n: number }>(sql, values)).rows[0]?.n ?? 0;

describe('replicas that start at once', () => {
  it('three commands that migrate one empty database all end well, and each migration is applied once', async () => {
    await openDatabase('template1');
    const env = { DATABASE_URL: url, FURCULA_DEMO: '0' };
    const outcomes = await Promise.all([1, 2, 3].map(() => runProgram('migrate-command.ts', env)));
    expect(
      outcomes.map(({ code }) => code),
      outcomes.map(({ stderr }) => stderr).join('\n'),
    ).toEqual([0, 0, 0]);
    const said = outcomes.map(({ stdout }) => stdout);
    expect(said.filter((text) => text.includes('Applied: '))).toHaveLength(1);
    expect(said.filter((text) => text.includes('The database is up to date.'))).toHaveLength(2);
    const names = listMigrations().migrationDirectories.map(({ path }) => path);
    const { rows } = await client.query<{ name: string; done: boolean }>(
      'select migration_name as name, finished_at is not null as done from _prisma_migrations order by 1',
    );
    expect(rows).toEqual(names.map((one) => ({ name: one, done: true })));
  }, 180_000);

  it('two workers do each job once, and one that fails is done again by one of them', async () => {
    await openDatabase(inject('templateName'));
    await client.query('create table done (worker int, job text)');
    const taskOf = (worker: number): TaskList => ({
      note: async (payload, { withPgClient, job }) => {
        const { word } = payload as { word: string };
        if (word === 'word 7' && job.attempts === 1) throw new Error('the first time');
        await withPgClient((pg) => pg.query('insert into done values ($1, $2)', [worker, word]));
      },
    });
    const words = Array.from({ length: 200 }, (_, index) => `word ${index}`);
    await client.query(
      `select graphile_worker.add_job('note', json_build_object('word', word)) from unnest($1::text[]) as word`,
      [words],
    );
    const workers = await Promise.all(
      [1, 2].map((worker) =>
        run({
          connectionString: url,
          concurrency: 2,
          noHandleSignals: true,
          taskList: taskOf(worker),
          logger: new Logger(() => () => undefined),
        }),
      ),
    );
    try {
      // What failed waits for its next attempt; here it need not wait long.
      await vi.waitFor(
        async () => {
          await client.query(
            'update graphile_worker._private_jobs set run_at = now() where locked_at is null',
          );
          expect(await count('select count(*)::int as n from graphile_worker._private_jobs')).toBe(0);
        },
        { timeout: 60_000, interval: 200 },
      );
    } finally {
      await Promise.all(workers.map((worker: Runner) => worker.stop()));
    }
    const { rows } = await client.query<{ job: string }>('select job from done');
    expect(rows.map(({ job }) => job).sort()).toEqual([...words].sort());
  }, 180_000);

  it('three workers begin work that comes by the clock once each time', async () => {
    await openDatabase(inject('templateName'));
    await client.query('create table begun (task text, due text)');
    const tasks = [...new Set(cronItems.map(({ task }) => task))];
    const taskList: TaskList = Object.fromEntries(
      tasks.map((task) => [
        task,
        async (payload, { withPgClient }) => {
          const { _cron } = payload as { _cron: { ts: string } };
          await withPgClient((pg) => pg.query('insert into begun values ($1, $2)', [task, _cron.ts]));
        },
      ]),
    );
    // As if no worker had run for two days: each of them makes up for one day when it starts.
    await client.query(
      `insert into graphile_worker._private_known_crontabs (identifier, known_since)
       select identifier, now() - interval '2 days' from unnest($1::text[]) as identifier`,
      [cronItems.map(({ identifier, task }) => identifier ?? task)],
    );
    const parsedCronItems = parseCronItems(
      cronItems.map((item) => ({ ...item, options: { backfillPeriod: 24 * 3_600_000 } })),
    );
    const workers = await Promise.all(
      [1, 2, 3].map(() =>
        run({
          connectionString: url,
          concurrency: 2,
          noHandleSignals: true,
          taskList,
          parsedCronItems,
          logger: new Logger(() => () => undefined),
        }),
      ),
    );
    try {
      await vi.waitFor(
        async () => {
          expect(await count('select count(distinct task)::int as n from begun')).toBe(tasks.length);
          expect(await count('select count(*)::int as n from graphile_worker._private_jobs')).toBe(0);
        },
        { timeout: 60_000, interval: 200 },
      );
    } finally {
      await Promise.all(workers.map((worker: Runner) => worker.stop()));
    }
    expect(
      await count(
        'select count(*)::int as n from (select from begun group by task, due having count(*) > 1) as twice',
      ),
    ).toBe(0);
    // What comes each hour came in each hour.
    const hourly = cronItems.filter(({ match }) => / \* \* \* \*$/.test(String(match)));
    expect(hourly.length).toBeGreaterThan(0);
    for (const { task } of hourly)
      expect(
        await count('select count(*)::int as n from begun where task = $1', task),
      ).toBeGreaterThanOrEqual(23);
  }, 180_000);
});
