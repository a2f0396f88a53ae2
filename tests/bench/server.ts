import { readFile } from 'node:fs/promises';
import { performance } from 'node:perf_hooks';
import { clearInterval, setInterval } from 'node:timers';
import { setTimeout } from 'node:timers/promises';
import { findFreePort } from '@/lib/ops/embedded-postgres/server';
import type { Lifetime } from '@/lib/ops/lifetime';
import { startWeb } from '@/lib/ops/web';
import { childrenOf } from '@/tests/ops/programs';

export const SECRET = 'a secret for the bench and nothing else';
const SAMPLE_MS = 500;

/** A production server on the database of DATABASE_URL; `startedInMs` is from its birth to its first good answer. */
export type BenchServer = { url: string; pid: number; startedInMs: number; stop(): Promise<void> };

export async function startServer(lifetime: Lifetime): Promise<BenchServer> {
  const { DATABASE_URL = '', FURCULA_DATA = '' } = process.env;
  const port = await findFreePort();
  const url = `http://127.0.0.1:${port}`;
  const begun = performance.now();
  const web = await startWeb({
    isDev: false,
    host: '127.0.0.1',
    port,
    env: {
      DATABASE_URL,
      FURCULA_DATA,
      NEXTAUTH_SECRET: SECRET,
      NEXTAUTH_URL: url,
      FURCULA_DEMO: '0',
      LOG_LEVEL: 'silent',
    },
    output: 'ignore',
  });
  await lifetime.onEnd(() => web.stop(5_000));
  while (!(await fetch(`${url}/api/ready`)).ok) await setTimeout(10);
  return { url, pid: web.pid, startedInMs: performance.now() - begun, stop: () => web.stop(5_000) };
}

/** Resident memory of a process and its children, in MB; of Linux only, 0 elsewhere. */
export async function residentMb(pid: number): Promise<number> {
  if (process.platform !== 'linux') return 0;
  const sizes = await Promise.all(
    [pid, ...childrenOf(pid)].map(async (one) => {
      const status = await readFile(`/proc/${one}/status`, 'utf8').catch(() => '');
      return Number(/VmRSS:\s+(\d+)/.exec(status)?.[1] ?? 0) / 1000;
    }),
  );
  return sizes.reduce((sum, size) => sum + size, 0);
}

/** Looks at a server's memory twice a second; `most` is what it held at most by the number of users there were. */
export class MemoryWatch {
  readonly most = new Map<number, number>();
  users = 0;
  private readonly timer: NodeJS.Timeout;

  constructor(private readonly pid: number) {
    this.timer = setInterval(() => void this.look(), SAMPLE_MS);
  }

  private async look(): Promise<void> {
    const { users } = this;
    this.most.set(users, Math.max(this.most.get(users) ?? 0, await residentMb(this.pid)));
  }

  end(): void {
    clearInterval(this.timer);
  }
}
