import { readdirSync } from 'node:fs';
import path from 'node:path';
import { beforeAll, describe, expect, it, vi } from 'vitest';
import type { Actor } from '@/lib/platform/actor';
import { db } from '@/lib/platform/db';
import type { RouteDescription } from '@/lib/platform/http';
import { may, PERMISSIONS, type Permission, ROLES, type Role } from '@/lib/platform/permissions';
import { makeActor, makeCollection } from '@/seed/factories';

/** The route tree is read from disk: a route file that says no permission, or a wrong one, fails here. */
const root = path.resolve(import.meta.dirname, '../../..');
const files = readdirSync(path.join(root, 'app'), { recursive: true, encoding: 'utf8' })
  .filter((file) => /(^|\/)route\.tsx?$/.test(file))
  .sort();

const METHODS = ['GET', 'POST', 'PUT', 'PATCH', 'DELETE'] as const;
type Handler = ((request: Request, context: unknown) => Promise<Response>) & { route?: RouteDescription };
type Entry = { file: string; method: (typeof METHODS)[number]; handler: Handler };

const signedIn: { actor: Actor | null } = { actor: null };
vi.mock('@/lib/platform/identity/session', () => ({ currentActor: async () => signedIn.actor }));

/** Routes for people without an account; each is listed here on purpose, with why. */
const PUBLIC: Record<string, string> = {
  'api/auth/[...nextauth]/route.ts': 'sign-in itself',
  'api/drop-off/[token]/route.ts': 'finders without an account, limited by a one-purpose token',
  'api/loan-request/[token]/route.ts': 'outside borrowers, limited by a one-purpose token',
  'api/health/route.ts': 'liveness for the proxy, says nothing else',
  'words/[file]/route.ts': 'the words of the screens, the same for everybody: the sign-in page speaks too',
  'api/ready/route.ts': 'readiness for the proxy, says nothing else',
  'api/set-up/second-factor/route.ts': 'the first code of a second factor, by a one-time link',
  'api/set-up/route.ts': 'the first administrator, by a one-time link',
};

const SOMEWHERE = '00000000-0000-7000-8000-000000000000';
const entries: Entry[] = [];
const actors = new Map<Role, Actor>();

beforeAll(async () => {
  const collectionId = await makeCollection(db());
  for (const role of ROLES) actors.set(role, await makeActor(db(), collectionId, role));
  for (const file of files) {
    const loaded = (await import(path.join(root, 'app', file))) as Record<string, Handler | undefined>;
    for (const method of METHODS) {
      const handler = loaded[method];
      if (handler !== undefined) entries.push({ file, method, handler });
    }
  }
}, 120_000);

const call = ({ method, handler, file }: Entry) =>
  handler(
    new Request(`http://localhost/${file}`, {
      method,
      headers: { 'content-type': 'application/json' },
      body: method === 'GET' ? undefined : '{}',
      signal: AbortSignal.timeout(5_000),
    }),
    {
      params: Promise.resolve(
        new Proxy(
          {},
          {
            get: () => SOMEWHERE,
            ownKeys: () => ['id'],
            getOwnPropertyDescriptor: () => ({ enumerable: true, configurable: true, value: SOMEWHERE }),
          },
        ),
      ),
    },
  );

describe('every route × every role', () => {
  it('each route says its permission; public ones are listed with a reason', () => {
    expect(entries.length).toBeGreaterThan(5);
    for (const { file, handler, method } of entries) {
      const permission = handler.route?.permission;
      if (permission === 'public') expect(Object.keys(PUBLIC), `${method} ${file}`).toContain(file);
      else expect(Object.keys(PERMISSIONS), `${method} ${file}`).toContain(permission);
    }
  });

  it('nobody signed in: 401 everywhere but on the public routes', async () => {
    signedIn.actor = null;
    for (const entry of entries) {
      if (entry.handler.route?.permission === 'public') continue;
      const answer = await call(entry);
      expect(answer.status, `${entry.method} ${entry.file}`).toBe(401);
    }
  });

  it.each(ROLES)('%s: 403 exactly where the table says so, and never a failure of ours', async (role) => {
    const actor = actors.get(role);
    if (actor === undefined) throw new Error(`no actor for ${role}`);
    signedIn.actor = actor;
    for (const entry of entries) {
      const permission = entry.handler.route?.permission;
      if (permission === undefined || permission === 'public') continue;
      const answer = await call(entry);
      const where = `${role} ${entry.method} ${entry.file}`;
      if (may(actor, permission as Permission))
        expect([200, 400, 404, 409, 422], where).toContain(answer.status);
      else expect(answer.status, where).toBe(403);
      await answer.body?.cancel();
    }
  });
});
