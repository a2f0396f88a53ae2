import { decode, encode } from 'next-auth/jwt';
import { beforeEach, describe, expect, it, vi } from 'vitest';
import { changeActive, endSessions } from '@/lib/people/service';
import type { Actor } from '@/lib/platform/actor';
import { db } from '@/lib/platform/db';
import { authOptions } from '@/lib/platform/identity/auth';
import { renewing } from '@/lib/platform/identity/renewal';
import { currentActor } from '@/lib/platform/identity/session';
import { forgetOldSessions } from '@/lib/platform/identity/sessions';
import { contextOf, makeActor, makeCollection } from '@/seed/factories';

/** What the request carries. */
const incoming = vi.hoisted(() => ({ cookie: '' }));
vi.mock('next/headers', () => ({ headers: async () => new Headers({ cookie: incoming.cookie }) }));
const limits = vi.hoisted(() => ({ value: { SESSION_IDLE_MINUTES: 60, SESSION_HOURS: 12 } }));
vi.mock('@/lib/platform/env', async (load) => {
  const real = await load<typeof import('@/lib/platform/env')>();
  return { ...real, settings: () => ({ ...real.settings(), ...limits.value }) };
});

type Token = Record<string, unknown> & { session: string; turn: number };
const SECRET = 'only-for-tests-and-nowhere-else';
const COOKIE = 'next-auth.session-token';
const START = Date.parse('2026-03-14T08:00:00Z');
const minutes = (count: number) => vi.setSystemTime(Date.now() + count * 60_000);

let collectionId: string;
let administrator: Actor;
let worker: Actor;
beforeEach(async () => {
  vi.useFakeTimers({ toFake: ['Date'], now: START });
  limits.value = { SESSION_IDLE_MINUTES: 60, SESSION_HOURS: 12 };
  collectionId = await makeCollection(db());
  administrator = await makeActor(db(), collectionId, 'administrator');
  worker = await makeActor(db(), collectionId, 'preparator');
  return () => void vi.useRealTimers();
});

/** What the sign-in puts into a browser, made by the callback that makes it. */
async function signIn(who: Actor = worker): Promise<Token> {
  const person = await db().person.findUniqueOrThrow({ where: { id: who.personId ?? '' } });
  const user = { id: person.id, epoch: person.sessionEpoch, collectionId };
  const jwt = authOptions().callbacks?.jwt;
  return (await jwt?.({ token: {}, user, account: null } as never)) as Token;
}

/** Who a request with this token is from, as every request finds it out. */
const ask = async (token: Token): Promise<Actor | null> => askWith(await cookieOf(token));

const cookieOf = (token: Token, secret = SECRET, maxAge = 12 * 3_600): Promise<string> =>
  encode({ token, secret, maxAge });

function askWith(cookie: string): Promise<Actor | null> {
  incoming.cookie = `other=1; ${COOKIE}=${cookie}`;
  return currentActor();
}

const handler = renewing(async (request: Request) =>
  Response.json({}, { status: request.url.endsWith('refused') ? 409 : 200 }),
);

/** The token that an answer's cookie brings; undefined when it brings none. */
async function exchange(token: Token, name = COOKIE, path = 'x'): Promise<Token | undefined> {
  const cookie = `other=1; ${name}=${await encode({ token, secret: SECRET })}`;
  const answer = await handler(new Request(`http://localhost/${path}`, { headers: { cookie } }), undefined);
  const set = answer.headers.get('set-cookie');
  if (set === null) return undefined;
  expect(set).toMatch(/; Path=\/; Max-Age=43200; HttpOnly; SameSite=Lax(; Secure)?$/);
  expect(set.endsWith('; Secure')).toBe(name.startsWith('__Secure-'));
  expect(set.startsWith(`${name}=`)).toBe(true);
  const value = set.slice(name.length + 1).split(';')[0];
  return (await decode({ token: value, secret: SECRET })) as unknown as Token;
}

const rowOf = ({ session }: Token) => db().signInSession.findUniqueOrThrow({ where: { id: session } });

describe('the end of a session', () => {
  it('idle: used each 59 minutes it stands, left for 60 it is over', async () => {
    const token = await signIn();
    for (let round = 0; round < 5; round += 1) {
      minutes(59);
      expect(await ask(token), `round ${round}`).toMatchObject({ personId: worker.personId });
    }
    minutes(60);
    expect(await ask(token)).toBeNull();
    vi.setSystemTime(Date.now() - 60_000);
    expect(await ask(token), 'the minute before was still in time').not.toBeNull();
  });

  it('absolute: over after twelve hours however busy it was', async () => {
    let token = await signIn();
    for (let elapsed = 0; elapsed < 12 * 60 - 30; elapsed += 30) {
      minutes(30);
      token = (await exchange(token)) ?? token;
      expect(await ask(token), `${elapsed + 30} minutes`).not.toBeNull();
    }
    minutes(30);
    expect(await exchange(token)).toBeUndefined();
    expect(await ask(token)).toBeNull();
  });

  it('both follow the settings, also for sessions that have begun', async () => {
    const token = await signIn();
    minutes(30);
    expect(await ask(token)).not.toBeNull();
    limits.value = { SESSION_IDLE_MINUTES: 10, SESSION_HOURS: 12 };
    minutes(10);
    expect(await ask(token)).toBeNull();
    const other = await signIn();
    limits.value = { SESSION_IDLE_MINUTES: 600, SESSION_HOURS: 1 };
    minutes(59);
    expect(await ask(other)).not.toBeNull();
    minutes(1);
    expect(await ask(other)).toBeNull();
  });

  it('by hand: signing out ends one session, an administrator all of them, a closed account too', async () => {
    const [desk, bench] = [await signIn(), await signIn()];
    await authOptions().events?.signOut?.({ token: desk } as never);
    expect(await ask(desk)).toBeNull();
    expect(await ask(bench)).not.toBeNull();
    await endSessions(contextOf(administrator), worker.personId ?? '');
    expect(await ask(bench)).toBeNull();
    expect((await rowOf(bench)).endedAt).not.toBeNull();
    const again = await signIn();
    expect(await ask(again)).not.toBeNull();
    await changeActive(contextOf(administrator), worker.personId ?? '', { active: false, reason: 'left' });
    expect(await ask(again)).toBeNull();
  });
});

describe('the turns of a token', () => {
  it('it is exchanged after a quarter of an hour, not before, and not with a refusal', async () => {
    const token = await signIn();
    minutes(14);
    expect(await exchange(token)).toBeUndefined();
    minutes(1);
    expect(await exchange(token, COOKIE, 'refused')).toBeUndefined();
    expect(await exchange(token)).toMatchObject({ session: token.session, turn: 1 });
    expect(await exchange(token, `__Secure-${COOKIE}`)).toMatchObject({ turn: 1 });
  });

  it('an answer that never arrived signs nobody out: the old token holds until the next is used', async () => {
    const token = await signIn();
    minutes(20);
    await exchange(token);
    minutes(20);
    expect(await ask(token)).not.toBeNull();
    const next = (await exchange(token)) ?? token;
    expect(await ask(next)).not.toBeNull();
    expect(await rowOf(token)).toMatchObject({ turn: 1, turnedAt: new Date() });
  });

  it('requests under way keep the old token for a minute; after that its use ends the session for both', async () => {
    const token = await signIn();
    minutes(15);
    const next = (await exchange(token)) ?? token;
    expect(await Promise.all([ask(next), ask(next), ask(token)])).not.toContain(null);
    minutes(1);
    expect(await ask(token)).not.toBeNull();
    vi.setSystemTime(Date.now() + 1);
    expect(await exchange(token), 'a retired token buys no new one').toBeUndefined();
    expect(await ask(token)).toBeNull();
    expect(await ask(next)).toBeNull();
  });

  it('one of another person, of no session, or two turns ahead opens nothing', async () => {
    const token = await signIn();
    const other = await signIn(administrator);
    expect(await ask({ ...token, session: other.session })).toBeNull();
    expect(await ask({ ...token, session: crypto.randomUUID() })).toBeNull();
    expect(await ask(other)).not.toBeNull();
    expect(await ask({ ...token, turn: 2 })).toBeNull();
    expect(await exchange({ ...token, session: 'nothing like it' })).toBeUndefined();
  });
});

describe('a cookie', () => {
  it('that was read before is held against the database each time', async () => {
    const token = await signIn();
    const cookie = await cookieOf(token);
    expect(await askWith(cookie)).toMatchObject({ personId: worker.personId, roles: worker.roles });
    await db().membership.updateMany({
      where: { personId: worker.personId ?? '' },
      data: { role: 'volunteer' },
    });
    expect(await askWith(cookie), 'another role').toMatchObject({ roles: ['volunteer'] });
    await endSessions(contextOf(administrator), worker.personId ?? '');
    expect(await askWith(cookie), 'an ended session').toBeNull();
  });

  it('that is changed, of another secret, or past its own end opens nothing, read before or not', async () => {
    const token = await signIn();
    const cookie = await cookieOf(token, SECRET, 60);
    expect(await askWith(cookie)).not.toBeNull();
    expect(await askWith(`${cookie.slice(0, -4)}AAAA`)).toBeNull();
    expect(await askWith(await cookieOf(token, 'a secret of somewhere else'))).toBeNull();
    minutes(1);
    expect(await askWith(cookie)).toBeNull();
    expect(await ask(token), 'the session stands').not.toBeNull();
  });
});

it('sessions past their end are forgotten, others are not', async () => {
  const old = await signIn();
  minutes(6 * 60);
  const young = await signIn();
  minutes(6 * 60 + 1);
  await forgetOldSessions();
  expect(await db().signInSession.findUnique({ where: { id: old.session } })).toBeNull();
  expect(await rowOf(young)).toMatchObject({ endedAt: null });
});
