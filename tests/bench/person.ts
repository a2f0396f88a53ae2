import { Agent, request } from 'node:http';
import pg from 'pg';
import type { Actor } from '@/lib/platform/actor';
import { db } from '@/lib/platform/db';
import { hashPassword } from '@/lib/platform/identity/passwords';
import { makeActor } from '@/seed/factories';
import { signIn } from '@/tests/torture/stand';
import { type Act, ROLES_OF_BENCH } from './acts';
import { CONNECTIONS } from './bare';

const PASSWORD = 'a password for the bench only';
/** Before a session's token would take its turn, which costs a request more than others. */
const COOKIE_MS = 10 * 60_000;
/** Before the server hangs up on a connection that nobody uses. */
const IDLE_MS = 4_000;

export type Sent = ReturnType<Act['request']>;

/** Somebody who may do everything in the filled collection, signed in to a server. */
export class BenchPerson {
  private cookie = '';
  private signedInAt = 0;
  private readonly agent = new Agent({ keepAlive: true, timeout: IDLE_MS });

  private constructor(
    readonly actor: Actor,
    private readonly email: string,
    readonly pool: pg.Pool,
    readonly url: string,
  ) {}

  static async make(url: string, collectionId: string): Promise<BenchPerson> {
    const actor = await makeActor(db(), collectionId, ...ROLES_OF_BENCH);
    const { email } = await db().person.update({
      where: { id: actor.personId ?? '' },
      data: { passwordDigest: await hashPassword(PASSWORD) },
    });
    const pool = new pg.Pool({ connectionString: process.env.DATABASE_URL, max: CONNECTIONS });
    return new BenchPerson(actor, email, pool, url).at(url);
  }

  /** The same person at another server. */
  async at(url: string): Promise<BenchPerson> {
    const person = new BenchPerson(this.actor, this.email, this.pool, url);
    await person.refresh();
    return person;
  }

  /** Signs in again when the session has grown old. To be called between what is measured. */
  async refresh(): Promise<void> {
    if (Date.now() - this.signedInAt < COOKIE_MS) return;
    this.cookie = await signIn(this.url, this.email, PASSWORD);
    this.signedInAt = Date.now();
  }

  get headers(): Record<string, string> {
    return { cookie: this.cookie, origin: this.url };
  }

  fetch({ method, path, body }: Sent): Promise<Response> {
    return fetch(`${this.url}${path}`, { method, headers: this.jsonHeaders, body: textOf(body) });
  }

  /**
   * Asks, reads the answer to its end, and says whether it was a good one. The users stand on the server's processors:
   * fetch would keep these for 2.4 ms of each request, four times as long.
   */
  send({ method, path, body }: Sent): Promise<boolean> {
    return new Promise((resolve, reject) => {
      const sent = request(`${this.url}${path}`, { method, headers: this.jsonHeaders, agent: this.agent });
      sent.on('error', reject);
      sent.on('response', (answer) => {
        answer.on('error', reject);
        answer.on('end', () => resolve(answer.statusCode !== undefined && answer.statusCode < 300));
        answer.resume();
      });
      sent.end(textOf(body));
    });
  }

  private get jsonHeaders(): Record<string, string> {
    return { ...this.headers, 'content-type': 'application/json' };
  }

  /** The answer, which must be good. @throws Error with what the server said instead. */
  async ask<T>(sent: Sent): Promise<T> {
    const answer = await this.fetch(sent);
    if (!answer.ok) throw new Error(`${sent.path}: ${answer.status} ${await answer.text()}`);
    return (await answer.json()) as T;
  }
}

const textOf = (body: unknown): string | undefined => (body === undefined ? undefined : JSON.stringify(body));
