import { randomUUID } from 'node:crypto';
import { Client } from 'pg';
import { afterAll, beforeAll, describe, expect, it, vi } from 'vitest';
import type { Actor } from '@/lib/platform/actor';
import type { RouteHandler } from '@/lib/platform/http';
import { deliver, EXAMPLES, loadCommands } from './repeated/commands';
import { GIVEN_ONCE } from './repeated/given-once';
import { type Example, type Lab, openLab } from './repeated/lab';

/**
 * Every command is delivered twice at the same moment under one Idempotency-Key, as when a proxy or a browser sends
 * again before the first answer: it is carried out once, and both are answered alike.
 */

const signedIn: { actor: Actor | null } = { actor: null };
vi.mock('@/lib/platform/identity/session', () => ({ currentActor: async () => signedIn.actor }));

let commands: Map<string, RouteHandler>;
let lab: Lab;
let client: Client;

beforeAll(async () => {
  lab = await openLab();
  client = new Client({ connectionString: process.env.DATABASE_URL });
  await client.connect();
  commands = await loadCommands();
}, 240_000);
afterAll(() => client.end());

const send = (command: string, example: Example, key: string) =>
  deliver(commands, signedIn, { command, key }, example);

/** What was recorded since, by more than one request. */
async function listDoneTwice(since: string): Promise<{ kind: string }[]> {
  const { rows } = await client.query<{ kind: string }>(
    `SELECT kind FROM "AuditEvent" WHERE id > $1 AND "requestId" IS NOT NULL
     GROUP BY kind, "subjectId", payload HAVING count(DISTINCT "requestId") > 1`,
    [since],
  );
  return rows;
}

describe('each command, delivered twice at the same moment', () => {
  it.each(Object.entries(EXAMPLES))('%s', async (command, makeExample) => {
    const example = await makeExample(lab);
    const key = randomUUID();
    const { rows } = await client.query<{ now: string }>('SELECT uuidv7() AS now');
    const [one, other] = await Promise.all([send(command, example, key), send(command, example, key)]);
    if (command in GIVEN_ONCE) {
      expect([one.status, other.status].sort(), JSON.stringify([one.body, other.body])).toEqual([200, 409]);
      expect([one, other].find(({ status }) => status === 409)?.body.title).toContain(
        'This was carried out already.',
      );
    } else {
      expect(one.status, JSON.stringify(one.body)).toBe(200);
      expect(other).toEqual(one);
    }
    expect(await listDoneTwice(rows[0]?.now ?? '')).toEqual([]);
  });
});
