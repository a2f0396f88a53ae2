import path from 'node:path';
import { afterAll, beforeAll, expect, it, vi } from 'vitest';
import { type EmbeddedPostgres, startEmbeddedPostgres } from '@/lib/ops/embedded-postgres/server';
import { migrateDatabase } from '@/lib/ops/migrate';
import { waitUntil } from '@/lib/ops/processes';
import { makeScratchDir, removeScratchDir } from '@/lib/ops/scratch-dir';
import { problemSchema } from '@/lib/platform/api';

const bearer = vi.hoisted(() => ({ token: '' }));
vi.mock('next/headers', () => ({
  headers: async () => new Headers({ authorization: `Bearer ${bearer.token}` }),
}));

/** A server of this test's own, which it may stop. Code under test reads the address when it first asks. */
const dir = makeScratchDir('gone');
const folder = path.join(dir, 'postgres');
let server: EmbeddedPostgres = await startEmbeddedPostgres(folder, { disposable: true });
process.env.DATABASE_URL = server.urlOf();

const { closeDb, db } = await import('@/lib/platform/db');
const { GET: ready } = await import('@/app/api/ready/route');
const { GET: health } = await import('@/app/api/health/route');
const { GET: listen } = await import('@/app/api/live/route');
const { GET: listSlips, POST: makeSlip } = await import('@/app/api/salvage/slips/route');
const { digestToken, makeToken } = await import('@/lib/platform/identity/tokens');
const { makeActor, makeCollection } = await import('@/seed/factories');

beforeAll(async () => {
  await migrateDatabase(server.urlOf());
  const collectionId = await makeCollection(db());
  const registrar = await makeActor(db(), collectionId, 'registrar');
  bearer.token = makeToken();
  await db().apiToken.create({
    data: {
      collectionId,
      personId: registrar.personId ?? '',
      name: 'test',
      tokenDigest: digestToken(bearer.token),
      scopes: ['salvage.slips'],
      expiresAt: new Date(Date.now() + 3_600_000),
    },
  });
});
afterAll(async () => {
  await closeDb();
  await server.stop();
  removeScratchDir(dir);
});

const context = { params: Promise.resolve({}) };
const list = () => listSlips(new Request('http://localhost/api/salvage/slips'), context);
const make = (key: string) =>
  makeSlip(
    new Request('http://localhost/api/salvage/slips', {
      method: 'POST',
      headers: { 'content-type': 'application/json', 'idempotency-key': key },
      body: JSON.stringify({ label: key }),
    }),
    context,
  );

async function expectUnavailable(answer: Response): Promise<void> {
  expect(answer.status).toBe(503);
  expect(Number(answer.headers.get('retry-after'))).toBeGreaterThan(0);
  expect(answer.headers.get('content-type')).toBe('application/problem+json');
  const problem = problemSchema.parse(await answer.json());
  expect(problem.code).toBe('unavailable');
  expect(JSON.stringify(problem)).not.toMatch(/ECONN|127\.0\.0\.1|postgres/i);
}

it('while the database is stopped, reads and commands are put off; when it is back, all goes on without a restart', async () => {
  expect((await make('before')).status).toBe(200);
  expect((await ready()).status).toBe(200);
  const { port } = server;
  await server.stop();
  for (let round = 0; round < 3; round += 1) {
    const answers = await Promise.all([list(), make('meanwhile'), list()]);
    for (const answer of answers) await expectUnavailable(answer);
  }
  expect((await ready()).status).toBe(503);
  expect((await health()).status).toBe(200);
  server = await startEmbeddedPostgres(folder, { disposable: true, port });
  await waitUntil(async () => (await ready()).status === 200, 30_000);
  expect((await make('meanwhile')).status).toBe(200);
  const again = await make('meanwhile');
  expect(again.status, 'carried out once; the answer, which holds a secret, is not given twice').toBe(409);
  const { rows } = (await (await list()).json()) as { rows: { label: string }[] };
  expect(rows.map(({ label }) => label).sort()).toEqual(['before', 'meanwhile']);
});

it('what listens ends when the database is back, so that its page asks again for all it may have missed', async () => {
  const answer = await listen(new Request('http://localhost/api/live'));
  const reader = answer.body?.getReader();
  const read = async () => new TextDecoder().decode((await reader?.read())?.value);
  expect(await read()).toContain('listening');
  const { port } = server;
  await server.stop();
  server = await startEmbeddedPostgres(folder, { disposable: true, port });
  for (let part = await reader?.read(); part?.done === false; part = await reader?.read());
  await expect(reader?.closed).resolves.toBeUndefined();
}, 60_000);
