import path from 'node:path';
import { Client } from 'pg';
import { loadDemo, prepareDatabase } from '@/lib/ops/database-content';
import {
  type EmbeddedPostgres,
  findFreePort,
  startEmbeddedPostgres,
} from '@/lib/ops/embedded-postgres/server';
import type { Lifetime } from '@/lib/ops/lifetime';
import { isAlive, type OwnedProcess, waitUntil } from '@/lib/ops/processes';
import { findStaleness, startBuild, startWeb } from '@/lib/ops/web';
import { hashPassword } from '@/lib/platform/identity/passwords';
import { ROLES } from '@/lib/platform/permissions';
import { childrenOf } from '@/tests/ops/programs';

const PASSWORD = 'a password for torture only';
const SECRET = 'a secret for torture and nothing else';

/** A database and a production server of their own, with the demo in it, that can be killed and started again. */
export class Stand {
  private constructor(
    private readonly dir: string,
    private readonly isDisposable: boolean,
    private postgres: EmbeddedPostgres,
    private readonly webPort: number,
    private web: OwnedProcess | undefined,
  ) {}

  /** @param isDisposable faster, for what is never killed: without it every commit is on the disk. */
  static async start(dir: string, isDisposable: boolean, lifetime: Lifetime): Promise<Stand> {
    const postgres = await startEmbeddedPostgres(path.join(dir, 'postgres'), { disposable: isDisposable });
    process.env.DATABASE_URL = postgres.urlOf();
    process.env.FURCULA_DATA = dir;
    process.env.NEXTAUTH_SECRET = SECRET;
    const stand = new Stand(dir, isDisposable, postgres, await findFreePort(), undefined);
    await lifetime.onEnd(() => stand.stop());
    await prepareDatabase(stand.databaseUrl);
    await loadDemo(stand.databaseUrl);
    const digest = findStaleness();
    if (digest !== undefined) await (await startBuild(digest)).finished;
    await stand.startWeb();
    return stand;
  }

  get databaseUrl(): string {
    return this.postgres.urlOf();
  }

  get address(): string {
    return `http://127.0.0.1:${this.webPort}`;
  }

  /** The process that serves. */
  get webPid(): number | undefined {
    return this.web?.pid;
  }

  private async startWeb(): Promise<void> {
    this.web = await startWeb({
      isDev: false,
      host: '127.0.0.1',
      port: this.webPort,
      env: {
        DATABASE_URL: this.databaseUrl,
        NEXTAUTH_SECRET: SECRET,
        NEXTAUTH_URL: this.address,
        FURCULA_DATA: this.dir,
        FURCULA_DEMO: '0',
        LOG_LEVEL: 'silent',
      },
      output: 'ignore',
    });
  }

  /** People of the demo's collection, one for each set of roles; gives the cookie of each. */
  async signIn(
    sets: Record<string, readonly string[]>,
  ): Promise<{ cookies: Map<string, string>; ids: Set<string> }> {
    const client = new Client({ connectionString: this.databaseUrl });
    await client.connect();
    const digest = await hashPassword(PASSWORD);
    const cookies = new Map<string, string>();
    const ids = new Set<string>();
    for (const [name, roles] of Object.entries(sets)) {
      const email = `torture-${name}@test.example`;
      const { rows } = await client.query<{ id: string }>(
        `INSERT INTO "Person" (id, email, name, "passwordDigest") VALUES (gen_random_uuid(), $1, $2, $3) RETURNING id::text`,
        [email, `Torture ${name}`, digest],
      );
      const id = rows[0]?.id ?? '';
      ids.add(id);
      await client.query(
        `INSERT INTO "Membership" ("personId", "collectionId", role) SELECT $1::uuid, c.id, r FROM "Collection" c, unnest($2::text[]) r`,
        [id, roles],
      );
      cookies.set(name, await signIn(this.address, email));
    }
    await client.end();
    return { cookies, ids };
  }

  /** Kills the database server and all its processes, or only the first, or one that serves somebody. */
  async killDatabase(which: 'all' | 'first' | 'one', choose: (count: number) => number): Promise<void> {
    const { pid } = this.postgres;
    const children = childrenOf(pid);
    const victims = {
      all: [pid, ...children],
      first: [pid],
      one: children.slice(choose(children.length)).slice(0, 1),
    }[which];
    for (const victim of victims) kill(victim);
    if (which === 'one') return;
    await this.postgres.exited;
    await waitUntil(() => children.every((child) => !isAlive(child)), 30_000);
    await this.postgres.stop();
    this.postgres = await startEmbeddedPostgres(path.join(this.dir, 'postgres'), {
      disposable: this.isDisposable,
      port: this.postgres.port,
    });
  }

  async killWeb(): Promise<void> {
    if (this.web === undefined) return;
    kill(-this.web.pid);
    await this.web.exited;
    await this.startWeb();
  }

  async stop(): Promise<void> {
    await this.web?.stop(5_000);
    await this.postgres.stop();
  }
}

/** Of a process that this stand started, or of its group. */
function kill(pid: number): void {
  try {
    process.kill(pid, 'SIGKILL');
  } catch {
    // It ended a moment before.
  }
}

/** The way of the sign-in page. Gives the session's cookie. */
export async function signIn(address: string, email: string, password = PASSWORD): Promise<string> {
  const csrf = await fetch(`${address}/api/auth/csrf`);
  const { csrfToken } = (await csrf.json()) as { csrfToken: string };
  const answer = await fetch(`${address}/api/auth/callback/credentials`, {
    method: 'POST',
    redirect: 'manual',
    headers: { cookie: cookiesOf(csrf), 'content-type': 'application/x-www-form-urlencoded' },
    body: new URLSearchParams({ csrfToken, email, password, json: 'true' }),
  });
  const cookie = cookiesOf(answer);
  if (!cookie.includes('session-token')) throw new Error(`${email} could not sign in: ${answer.status}`);
  return cookie;
}

const cookiesOf = (answer: Response): string =>
  answer.headers
    .getSetCookie()
    .map((cookie) => cookie.split(';')[0] ?? '')
    .join('; ');

export const onePersonARole = Object.fromEntries(ROLES.map((role) => [role, [role]]));
