import { randomUUID } from 'node:crypto';
import { Client } from 'pg';
import { afterAll, beforeAll, describe, expect, it, vi } from 'vitest';
import type { Actor } from '@/lib/platform/actor';
import type { RouteHandler } from '@/lib/platform/http';
import { deliver, EXAMPLES, loadCommands } from './repeated/commands';
import { GIVEN_ONCE } from './repeated/given-once';
import { type Example, type Lab, openLab } from './repeated/lab';

/**
 * Every command of the route tree, read from disk, is delivered twice under one Idempotency-Key: it is answered alike
 * and carried out once. A route without an example, or an example without a route, fails here.
 */

/** Commands that take no Idempotency-Key, each with why. */
const NO_KEY: Record<string, string> = {
  'POST api/auth/[...nextauth]': 'sign-in itself: each begins a session',
  'POST api/drop-off/[token]': 'nobody is signed in; the report carries a key of its own',
  'POST api/loan-request/[token]': 'nobody is signed in; the request carries a key of its own',
  'POST api/set-up': 'nobody is signed in; its link opens once',
  'POST api/set-up/second-factor': 'nobody is signed in; its link opens once',
  'POST api/second-factor':
    'each link takes the place of the one before; nothing is changed before a code is confirmed',
  'POST api/attachments': 'the body is a file, streamed: known again by its content',
  'POST api/exchange/imports':
    'the body is a file, streamed: handed in again it is looked at again, nothing is made',
  'POST api/storage/[id]/logs': 'the body is a file, streamed: a stretch of time is taken once',
  'POST api/taxa/checklists': 'the body is a file, streamed: nothing is current before somebody makes it so',
};

/** Sent like commands, for the size of what they ask; they write nothing. */
const WRITE_NOTHING = ['POST api/places/read'];

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

/** Attempts that are counted whether they succeed or not; no record. */
const COUNTERS = ['rate_limit'];

/** A digest of the rows of each table and of the waiting jobs, by table. */
async function contents(): Promise<Record<string, string>> {
  const { rows: tables } = await client.query<{ name: string }>(
    `SELECT table_name AS name FROM information_schema.tables WHERE table_schema = 'public'
     AND table_type = 'BASE TABLE' AND NOT table_name = ANY($1)`,
    [COUNTERS],
  );
  const names = [...tables.map(({ name }) => `"${name}"`), 'graphile_worker._private_jobs'];
  const { rows } = await client.query<{ name: string; digest: string }>(
    names
      .map(
        (name) =>
          `SELECT '${name}' AS name, md5(string_agg(t::text, '|' ORDER BY t::text)) AS digest FROM ${name} t`,
      )
      .join(' UNION ALL '),
  );
  return Object.fromEntries(rows.map(({ name, digest }) => [name, digest]));
}

const send = (command: string, example: Example, key: string) =>
  deliver(commands, signedIn, { command, key }, example);

describe('each command, delivered twice', () => {
  it('has an example, or a reason why it takes no key', () => {
    const known = [...Object.keys(EXAMPLES), ...Object.keys(NO_KEY)];
    expect([...commands.keys()].sort()).toEqual(known.sort());
    expect(Object.keys(GIVEN_ONCE).filter((command) => !(command in EXAMPLES))).toEqual([]);
    console.log(
      `${commands.size} commands: ${Object.keys(EXAMPLES).length} delivered twice, ${Object.keys(NO_KEY).length} without a key`,
    );
  });

  it.each(Object.entries(EXAMPLES))('%s', async (command, makeExample) => {
    const example = await makeExample(lab);
    const key = randomUUID();
    const before = await contents();
    const first = await send(command, example, key);
    expect(first.status, JSON.stringify(first.body)).toBe(200);
    const after = await contents();
    const [was, is] = [before['"AuditEvent"'], after['"AuditEvent"']];
    if (WRITE_NOTHING.includes(command)) expect(after).toEqual(before);
    else expect(is, 'the first delivery is in the history').not.toBe(was);
    const again = await send(command, example, key);
    if (command in GIVEN_ONCE) {
      expect(again.status).toBe(409);
      expect(again.body.title).toContain('This was carried out already.');
    } else expect(again).toEqual(first);
    expect(await contents()).toEqual(after);
  });
});
