import { readdirSync } from 'node:fs';
import path from 'node:path';
import Ajv2020 from 'ajv/dist/2020';
import addFormats from 'ajv-formats';
import { afterEach, beforeAll, describe, expect, it, vi } from 'vitest';
import { GET as listAccessions } from '@/app/api/accessions/route';
import { GET as describeThisApi } from '@/app/api/openapi.json/route';
import { POST as addPlace } from '@/app/api/places/route';
import { makeApiToken, revokeApiToken } from '@/lib/exchange/service/tokens';
import type { Actor } from '@/lib/platform/actor';
import { pinClock } from '@/lib/platform/clock';
import { db } from '@/lib/platform/db';
import { contextOf, makeActor, makeCollection } from '@/seed/factories';

/** What the request carries; nobody has a session. */
const incoming = { authorization: null as string | null };
vi.mock('next/headers', () => ({
  headers: async () =>
    new Headers(incoming.authorization === null ? {} : { authorization: incoming.authorization }),
}));

let administrator: Actor;
let registrar: Actor;

beforeAll(async () => {
  const collectionId = await makeCollection(db());
  administrator = await makeActor(db(), collectionId, 'administrator');
  registrar = await makeActor(db(), collectionId, 'registrar');
});

afterEach(() => {
  incoming.authorization = null;
  pinClock(null);
});

const inDays = (days: number) => new Date(Date.now() + days * 86_400_000).toISOString().slice(0, 10);

const makeFor = (scopes: string[], days = 10) =>
  makeApiToken(contextOf(administrator), {
    name: 'Test feed',
    personId: registrar.personId ?? '',
    scopes: scopes as ['accessions.see'],
    expiresOn: inDays(days),
  });

type Route = (request: Request, context: { params: Promise<Record<string, string>> }) => Promise<Response>;
async function call(route: Route, token: string | null, init: RequestInit = {}): Promise<Response> {
  incoming.authorization = token === null ? null : `Bearer ${token}`;
  return route(new Request('http://localhost/api', init), { params: Promise.resolve({}) });
}

const place = {
  method: 'POST',
  body: JSON.stringify({ name: 'By token', country: 'US' }),
  headers: { 'content-type': 'application/json' },
};

describe('tokens', () => {
  it('act within their scopes and are named in the history', async () => {
    const { token } = await makeFor(['accessions.see', 'places.manage', 'places.see']);
    expect((await call(listAccessions, token)).status).toBe(200);
    const made = (await (await call(addPlace, token, place)).json()) as { id: string };
    const event = await db().auditEvent.findFirst({ where: { subjectId: made.id } });
    expect(event?.actorName).toBe(`${registrar.name} (token Test feed)`);
    expect(event?.actorId).toBe(registrar.personId);
  });

  it('are refused beyond their scopes, with or without the role', async () => {
    const { token } = await makeFor(['accessions.see']);
    expect((await call(addPlace, token, place)).status).toBe(403);
  });

  it('do nothing when unknown, expired or revoked, or when the person may do nothing any more', async () => {
    expect((await call(listAccessions, null)).status).toBe(401);
    expect((await call(listAccessions, 'furcula_nobody')).status).toBe(401);
    const { token, row } = await makeFor(['accessions.see'], 2);
    pinClock(new Date(Date.now() + 4 * 86_400_000));
    expect((await call(listAccessions, token)).status).toBe(401);
    pinClock(null);
    expect((await call(listAccessions, token)).status).toBe(200);
    await revokeApiToken(contextOf(administrator), row.id, 'lost');
    expect((await call(listAccessions, token)).status).toBe(401);
    const other = await makeFor(['accessions.see']);
    await db().membership.deleteMany({ where: { personId: registrar.personId ?? '' } });
    expect((await call(listAccessions, other.token)).status).toBe(401);
    await db().membership.create({
      data: { personId: registrar.personId ?? '', collectionId: registrar.collectionId, role: 'registrar' },
    });
  });

  it('are given by administrators, within what the person may do, for a year at most', async () => {
    await expect(
      makeApiToken(contextOf(registrar), {
        name: 'x',
        personId: registrar.personId ?? '',
        scopes: ['accessions.see'],
        expiresOn: inDays(1),
      }),
    ).rejects.toMatchObject({ code: 'forbidden' });
    await expect(makeFor(['reports.sign'])).rejects.toMatchObject({
      code: 'not-valid',
      fields: [{ path: 'scopes' }],
    });
    await expect(makeFor(['accessions.see'], 400)).rejects.toMatchObject({
      code: 'not-valid',
      fields: [{ path: 'expiresOn' }],
    });
  });

  it('are kept as a digest only', async () => {
    const { token } = await makeFor(['accessions.see']);
    const rows = await db().$queryRaw<{ found: bigint }[]>`SELECT count(*) AS found FROM "ApiToken" t
      WHERE t::text LIKE ${`%${token}%`}`;
    expect(Number(rows[0]?.found)).toBe(0);
    const events = await db().auditEvent.findMany({ where: { kind: 'exchange.token-made' } });
    expect(JSON.stringify(events.map((event) => event.payload))).not.toContain(token);
  });
});

describe('the description of the API', () => {
  const root = path.resolve(import.meta.dirname, '../../../app');
  type Document = { openapi: string; paths: Record<string, Record<string, { operationId: string }>> };
  const load = async (): Promise<Document> => {
    const { token } = await makeFor(['workspace.enter']);
    return (await (await call(describeThisApi, token)).json()) as Document;
  };

  it('has every route of the tree with its methods, each under a name of its own', async () => {
    const { paths, openapi } = await load();
    expect(openapi).toBe('3.1.0');
    const onDisk = readdirSync(path.join(root, 'api'), { recursive: true, encoding: 'utf8' })
      .filter((file) => path.basename(file) === 'route.ts')
      .map((file) => `/api/${path.dirname(file)}`.replace(/\[(?:\.\.\.)?(\w+)\]/g, '{$1}'))
      .filter((address) => !['/api/openapi.json', '/api/auth/{nextauth}'].includes(address))
      .sort();
    expect(Object.keys(paths).sort()).toEqual(onDisk);
    const ids = Object.values(paths).flatMap((item) => Object.values(item).map((one) => one.operationId));
    expect(new Set(ids).size).toBe(ids.length);
    expect(ids.length).toBeGreaterThan(onDisk.length);
  });

  it('describes answers by schemas that the answers themselves fit', async () => {
    const { token } = await makeFor(['accessions.see', 'workspace.enter']);
    const document = (await (await call(describeThisApi, token)).json()) as Document & { $id?: string };
    const answer: unknown = await (await call(listAccessions, token)).json();
    const ajv = new Ajv2020({ strict: false });
    addFormats(ajv);
    ajv.addSchema({ ...document, $id: 'api' });
    const pointer = 'api#/paths/~1api~1accessions/get/responses/200/content/application~1json/schema';
    const validate = ajv.getSchema(pointer);
    expect(validate?.(answer)).toBe(true);
    expect(validate?.({ rows: 'none' })).toBe(false);
  });
});
