import { execFileSync } from 'node:child_process';
import { once } from 'node:events';
import { existsSync, mkdirSync, mkdtempSync, readFileSync, rmSync, statSync, writeFileSync } from 'node:fs';
import path from 'node:path';
import { Client } from 'pg';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { isRoot } from '@/lib/ops/embedded-postgres/account';
import { type EmbeddedPostgres, startEmbeddedPostgres } from '@/lib/ops/embedded-postgres/server';
import { isAlive, waitUntil } from '@/lib/ops/processes';
import { makeScratchDir, removeScratchDir } from '@/lib/ops/scratch-dir';
import { childrenOf, holdServer, withScratchDir } from './programs';

async function query(server: EmbeddedPostgres, sql: string): Promise<Record<string, unknown>[]> {
  const client = new Client({ connectionString: server.urlOf() });
  await client.connect();
  try {
    return (await client.query(sql)).rows;
  } finally {
    await client.end();
  }
}

const madeOnce = makeScratchDir('made-once');

beforeAll(async () => {
  const server = await startEmbeddedPostgres(path.join(madeOnce, 'pg'), { disposable: true });
  await server.stop();
});
afterAll(() => removeScratchDir(madeOnce));

/** Runs work with a folder in which a database has been made already, which takes a while each time. */
const withHome = (work: (home: string) => Promise<void>) => () =>
  withScratchDir(async (dir) => {
    execFileSync('cp', ['-a', path.join(madeOnce, 'pg'), dir]);
    await work(path.join(dir, 'pg'));
  });

async function readKept(dir: string): Promise<Record<string, unknown>[]> {
  const server = await startEmbeddedPostgres(dir);
  try {
    return await query(server, 'select word from kept');
  } finally {
    await server.stop();
  }
}

describe('embedded PostgreSQL', () => {
  it(
    'keeps its data over stop and start, and leaves no process',
    withHome(async (home) => {
      const first = await startEmbeddedPostgres(home);
      await query(first, `create table kept as select 'stopped' as word`);
      await first.stop();
      expect(isAlive(first.pid)).toBe(false);
      expect(await readKept(home)).toEqual([{ word: 'stopped' }]);
    }),
  );

  it(
    'is durable, listens on this machine only and has a password that only its account reads',
    withHome(async (home) => {
      const server = await startEmbeddedPostgres(home);
      try {
        const [settings] = await query(
          server,
          `select current_setting('fsync') as fsync, current_setting('synchronous_commit') as commit,
                  current_setting('full_page_writes') as pages, current_setting('listen_addresses') as host`,
        );
        expect(settings).toEqual({ fsync: 'on', commit: 'on', pages: 'on', host: '127.0.0.1' });
        expect(statSync(path.join(server.homeDir, 'password')).mode & 0o777).toBe(0o600);
        const stranger = new Client({ connectionString: server.urlOf().replace(/:[^:@]+@/, ':guess@') });
        await expect(stranger.connect()).rejects.toThrow(/password authentication failed/);
      } finally {
        await server.stop();
      }
    }),
  );

  it(
    'is not run by two at once',
    withHome(async (home) => {
      const { holder } = await holdServer(home);
      await expect(startEmbeddedPostgres(home, { patienceMs: 200 })).rejects.toThrow(
        new RegExp(`already runs from this folder \\(process ${holder.pid}`),
      );
      holder.kill('SIGKILL');
      await once(holder, 'exit');
      expect(await readKept(home)).toEqual([{ word: 'committed' }]);
    }),
  );

  it(
    'goes away by itself when its program is killed, and what was committed is there at the next start',
    withHome(async (home) => {
      const { holder, serverPid } = await holdServer(home);
      holder.kill('SIGKILL');
      await once(holder, 'exit');
      expect(await waitUntil(() => !isAlive(serverPid), 10_000)).toBe(true);
      expect(await readKept(home)).toEqual([{ word: 'committed' }]);
    }),
  );

  it(
    'recovers when program and server are killed together',
    withHome(async (home) => {
      const { holder, serverPid } = await holdServer(home);
      process.kill(serverPid, 'SIGKILL');
      holder.kill('SIGKILL');
      await once(holder, 'exit');
      expect(await readKept(home)).toEqual([{ word: 'committed' }]);
    }),
  );

  it.skipIf(process.platform !== 'linux')(
    'takes over a server that was left running (Linux)',
    withHome(async (home) => {
      const { holder, serverPid } = await holdServer(home);
      const keepers = childrenOf(holder.pid ?? 0).filter((pid) => pid !== serverPid);
      for (const pid of keepers) process.kill(pid, 'SIGKILL');
      holder.kill('SIGKILL');
      await once(holder, 'exit');
      expect(isAlive(serverPid)).toBe(true);
      expect(await readKept(home)).toEqual([{ word: 'committed' }]);
      expect(isAlive(serverPid)).toBe(false);
    }),
  );

  it(
    'starts over a note of a process number that belongs to somebody else now',
    withHome(async (home) => {
      const server = await startEmbeddedPostgres(home);
      await query(server, `create table kept as select 'stopped' as word`);
      const pidFile = path.join(server.homeDir, 'cluster', 'postmaster.pid');
      const note = readFileSync(pidFile, 'utf8');
      await server.stop();
      writeFileSync(pidFile, note.replace(/^\d+/, String(process.pid)));
      expect(await readKept(home)).toEqual([{ word: 'stopped' }]);
    }),
  );

  it('begins again when it was killed while it was being made', () =>
    withScratchDir(async (dir) => {
      const half = path.join(dir, 'pg', 'cluster.unfinished');
      mkdirSync(half, { recursive: true });
      writeFileSync(path.join(half, 'PG_VERSION'), '18\n');
      const server = await startEmbeddedPostgres(path.join(dir, 'pg'), { disposable: true });
      expect(existsSync(half)).toBe(false);
      await server.stop();
    }));

  it(
    'refuses data of another major version in one sentence',
    withHome(async (home) => {
      writeFileSync(path.join(home, 'cluster', 'PG_VERSION'), '17\n');
      await expect(startEmbeddedPostgres(home)).rejects.toThrow(/belongs to PostgreSQL 17/);
    }),
  );
});

describe.skipIf(!isRoot())('embedded PostgreSQL as root', () => {
  it('keeps the data where its account can go when it cannot enter the clone, and finds it again', async () => {
    const closed = mkdtempSync('/root/furcula-ops-');
    try {
      const server = await startEmbeddedPostgres(path.join(closed, 'pg'));
      await query(server, `create table kept as select 'elsewhere' as word`);
      await server.stop();
      expect(server.note).toContain(`its data is in ${server.homeDir}`);
      expect(server.homeDir).toMatch(/^\/var\/lib\/furcula\//);
      expect(statSync(path.join(server.homeDir, 'cluster')).uid).not.toBe(0);
      expect(await readKept(path.join(closed, 'pg'))).toEqual([{ word: 'elsewhere' }]);
      rmSync(server.homeDir, { recursive: true });
    } finally {
      rmSync(closed, { recursive: true });
    }
  });
});
