import { beforeAll, describe, expect, it, vi } from 'vitest';
import { POST as changePlace } from '@/app/api/places/[id]/change/route';
import { GET as readPlace } from '@/app/api/places/[id]/route';
import { POST as addPlace, GET as listPlaces } from '@/app/api/places/route';
import type { Actor } from '@/lib/platform/actor';
import { db } from '@/lib/platform/db';
import type { RouteHandler } from '@/lib/platform/http';
import { makeActor, makeCollection } from '@/seed/factories';

const signedIn: { actor: Actor | null } = { actor: null };
vi.mock('@/lib/platform/identity/session', () => ({ currentActor: async () => signedIn.actor }));

let id: string;

async function send(route: RouteHandler, init: RequestInit = {}): Promise<Response> {
  return route(new Request('http://localhost/api/places', init), { params: Promise.resolve({ id }) });
}
const command = (body: object): RequestInit => ({ method: 'POST', body: JSON.stringify(body) });
const ask = (route: RouteHandler, tag?: string | null) =>
  send(route, { headers: tag === undefined || tag === null ? {} : { 'if-none-match': tag } });

const renamed = (version: number) => ({
  name: `By the mill, ${version}`,
  country: 'US',
  active: true,
  version,
  reason: 'Named anew',
});

beforeAll(async () => {
  const collectionId = await makeCollection(db());
  signedIn.actor = await makeActor(db(), collectionId, 'registrar');
  const made = await send(addPlace, command({ name: 'By the mill', country: 'US' }));
  id = ((await made.json()) as { id: string }).id;
});

// Source: RFC 9110, 8.8.3, 13.1.2 and 15.4.5 (from memory): a 304 has no body and the caching headers of the 200.
describe.each([
  ['a record', readPlace],
  ['a list', listPlaces],
])('%s that is read again', (_, route) => {
  it('is answered 304 without a body while it is the same, and in full once it changed', async () => {
    const first = await ask(route);
    const tag = first.headers.get('etag');
    expect(first.status).toBe(200);
    expect(first.headers.get('content-type')).toBe('application/json');
    expect(first.headers.get('cache-control')).toBe('private, no-cache');
    expect(tag).toMatch(/^"[^"]+"$/);
    const kept = await first.text();

    const same = await ask(route, `"other", ${tag}`);
    expect(same.status).toBe(304);
    expect(await same.text()).toBe('');
    for (const header of ['etag', 'cache-control'])
      expect(same.headers.get(header)).toBe(first.headers.get(header));

    expect((await ask(route, '"other"')).status).toBe(200);
    const place = await db().place.findUniqueOrThrow({ where: { id } });
    const changed = await send(changePlace, command(renamed(place.version)));
    expect(changed.status, await changed.clone().text()).toBe(200);
    expect(changed.headers.get('etag')).toBeNull();
    const later = await ask(route, tag);
    expect(later.status).toBe(200);
    expect(later.headers.get('etag')).not.toBe(tag);
    expect(await later.text()).not.toBe(kept);
  });

  it('is refused before any tag is looked at', async () => {
    const actor = signedIn.actor;
    const tag = (await ask(route)).headers.get('etag');
    signedIn.actor = null;
    const refused = await ask(route, tag);
    signedIn.actor = actor;
    expect(refused.status).toBe(401);
    expect(refused.headers.get('etag')).toBeNull();
  });
});
