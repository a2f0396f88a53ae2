import { randomUUID } from 'node:crypto';
import { Client } from 'pg';
import { afterAll, beforeAll, describe, expect, it, vi } from 'vitest';
import { collectTexts } from '@/lib/ops/collect-words';
import { projectRoot } from '@/lib/ops/project';
import type { Actor } from '@/lib/platform/actor';
import type { RouteHandler } from '@/lib/platform/http';
import { keepCatalogue } from '@/lib/platform/words/catalogues';
import { deliver, EXAMPLES, loadCommands } from './repeated/commands';
import { type Lab, openLab } from './repeated/lab';

/**
 * What is written down speaks no reader's language: each command is sent by somebody whose words all carry a mark, and
 * no table holds the mark afterwards, but that of the answers kept for those who ask again.
 */
const MARK = '⟦';
const signedIn: { actor: Actor | null } = { actor: null };
vi.mock('@/lib/platform/identity/session', () => ({ currentActor: async () => signedIn.actor }));
// As the server resolves it.
vi.mock('#ambient-language', () => import('@/lib/platform/words/ambient-server'));

let commands: Map<string, RouteHandler>;
let lab: Lab;
let client: Client;
const seen = new Set<string>();

beforeAll(async () => {
  lab = await openLab();
  client = new Client({ connectionString: process.env.DATABASE_URL });
  await client.connect();
  commands = await loadCommands();
  keepCatalogue(
    'es',
    Object.fromEntries(collectTexts(projectRoot).map(({ text }) => [text, `${MARK}${text}`])),
  );
}, 240_000);
afterAll(() => client.end());

/** Rows with the mark that were not seen before, by table. */
async function marked(): Promise<string[]> {
  const { rows: tables } = await client.query<{ name: string }>(
    `SELECT format('%I', table_name) AS name FROM information_schema.tables
     WHERE table_schema = 'public' AND table_type = 'BASE TABLE' AND table_name <> 'IdempotencyKey'`,
  );
  const { rows } = await client.query<{ row: string }>(
    [...tables.map(({ name }) => name), 'graphile_worker._private_jobs']
      .map((name) => `SELECT '${name}: ' || t::text AS row FROM ${name} t WHERE t::text LIKE '%${MARK}%'`)
      .join(' UNION ALL '),
  );
  return rows.map(({ row }) => row).filter((row) => !seen.has(row) && seen.add(row));
}

describe('a command of somebody who reads another language', () => {
  it('answers in it, so that this test can see it', async () => {
    const refused = await deliver(
      commands,
      signedIn,
      { command: 'POST api/places/read', key: randomUUID(), language: 'es' },
      { as: lab.as.registrar, body: { coordinates: 7 } },
    );
    expect(refused.body.title).toContain(MARK);
  });

  it('is refused in it, also where the refusal and the words in it were said while writing', async () => {
    const command = 'POST api/loans/[id]/grant';
    const example = await EXAMPLES[command]?.(lab);
    if (example === undefined) throw new Error('There is no example of a grant.');
    const grant = () => deliver(commands, signedIn, { command, key: randomUUID(), language: 'es' }, example);
    expect((await grant()).status).toBe(200);
    const refused = await grant();
    expect(refused.status).toBe(409);
    // “This loan” is a text of its own within the sentence.
    expect(refused.body.title).toBe('⟦⟦This loan was changed by somebody else since you opened it.');
  });

  it.each(Object.entries(EXAMPLES))('%s', async (command, makeExample) => {
    const example = await makeExample(lab);
    await marked();
    const answer = await deliver(commands, signedIn, { command, key: randomUUID(), language: 'es' }, example);
    expect(answer.status, JSON.stringify(answer.body)).toBe(200);
    expect(await marked()).toEqual([]);
  });
});
