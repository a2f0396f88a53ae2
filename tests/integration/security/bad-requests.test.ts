import { Client } from 'pg';
import { afterAll, beforeAll, expect, it, vi } from 'vitest';
import { routeModules } from '@/app/api/openapi.json/routes.generated';
import { ensureShippedPacks } from '@/lib/permits/public';
import type { Actor } from '@/lib/platform/actor';
import { db } from '@/lib/platform/db';
import type { RouteHandler } from '@/lib/platform/http';
import { ROLES, type Role } from '@/lib/platform/permissions';
import { makeActor, makeBird, makeCollection } from '@/seed/factories';
import { makeInReview } from '@/seed/factories/catalogue';
import { makeBox, makeCatalogued } from '@/seed/factories/loans';
import { Dice } from '@/seed/scenario/random';
import { describeTally, sendBadRequests } from '@/tests/torture/bad-requests';
import { Requests } from '@/tests/torture/requests';
import { listTargets } from '@/tests/torture/targets';
import { Watch } from '@/tests/torture/watch';

/** A short run of `npm run torture`'s first part, through the handlers in this process. Another seed, another run. */
const SEED = Number(process.env.TORTURE_SEED ?? 20261125);
const COUNT = Number(process.env.TORTURE_REQUESTS ?? 1_500);

const signedIn: { actor: Actor | null } = { actor: null };
vi.mock('@/lib/platform/identity/session', () => ({ currentActor: async () => signedIn.actor }));

const actors = new Map<Role, Actor>();
let attempt = 0;
let client: Client;

beforeAll(async () => {
  const collectionId = await makeCollection(db());
  for (const role of ROLES) actors.set(role, await makeActor(db(), collectionId, role));
  const curator = await makeActor(db(), collectionId, 'curator');
  for (let index = 0; index < 3; index += 1) {
    await makeCatalogued(db(), curator, await makeBox(db(), collectionId), { vials: 2 });
    await makeInReview(db(), await makeActor(db(), collectionId, 'preparator'));
    await makeBird(db(), collectionId);
  }
  // They come with the first question about the law in a new collection, whatever is answered.
  await ensureShippedPacks(collectionId);
  client = new Client({ connectionString: process.env.DATABASE_URL });
  await client.connect();
});
afterAll(() => client.end());

it(`${COUNT} bad requests to every route: refused with a reason and nothing written, never a failure of ours`, async () => {
  const targets = listTargets(routeModules);
  const handlers = new Map(
    routeModules.flatMap(({ folder, handlers: module }) =>
      Object.entries(module).map(([method, handler]) => [`${method} ${folder}`, handler as RouteHandler]),
    ),
  );
  const watch = await Watch.over(client);
  const own = new Set([...actors.values()].map(({ personId }) => personId ?? ''));
  const requests = new Requests(new Dice(SEED), targets, await watch.readIds(own));
  const tally = await sendBadRequests(COUNT, {
    requests,
    watch,
    send: async ({ target, role, params, address, headers, body }) => {
      signedIn.actor = actors.get(role) ?? null;
      const handler = handlers.get(`${target.method} ${target.folder}`);
      if (handler === undefined) throw new Error(`no handler for ${target.method} ${target.folder}`);
      const request = new Request(`http://localhost${address}`, {
        method: target.method,
        headers: { ...headers, 'x-forwarded-for': `10.0.${(attempt++ >> 8) % 256}.${attempt % 256}` },
        body: body as BodyInit | undefined,
        signal: AbortSignal.timeout(30_000),
      });
      return handler(request, { params: Promise.resolve(params) });
    },
  });
  const lines = describeTally(tally);
  console.log(`seed ${SEED}\n${lines.join('\n')}`);
  expect(tally.faults.size, lines.join('\n')).toBe(0);
  expect(tally.refused).toBeGreaterThan(COUNT / 2);
  expect(tally.routes.size).toBeGreaterThan(targets.length / 2);
}, 600_000);
