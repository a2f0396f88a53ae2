import { randomUUID } from 'node:crypto';
import { afterEach, beforeEach, describe, expect, it, vi } from 'vitest';
import { GET as listen } from '@/app/api/live/route';
import { makeApiToken, revokeApiToken } from '@/lib/exchange/service/tokens';
import { changeActive, changeRoles, endSessions } from '@/lib/people/service';
import type { Actor } from '@/lib/platform/actor';
import { db } from '@/lib/platform/db';
import { actorOf } from '@/lib/platform/identity/session';
import { beginSession, endSession } from '@/lib/platform/identity/sessions';
import { actorOfToken } from '@/lib/platform/identity/tokens';
import { withTx } from '@/lib/platform/tx';
import { contextOf, makeActor, makeCollection } from '@/seed/factories';

const signedIn: { actor: Actor | null } = { actor: null };
vi.mock('@/lib/platform/identity/session', async (load) => ({
  ...(await load<typeof import('@/lib/platform/identity/session')>()),
  currentActor: async () => signedIn.actor,
}));

let collectionId: string;
let administrator: Actor;
let session: string;
let leaving: AbortController;

beforeEach(async () => {
  // The heartbeat and the clock are the test's; what the database's connections wait for is real.
  vi.useFakeTimers({ toFake: ['Date', 'setInterval', 'clearInterval'] });
  collectionId = await makeCollection(db());
  administrator = await makeActor(db(), collectionId, 'administrator');
  leaving = new AbortController();
  const { personId } = await makeActor(db(), collectionId, 'preparator');
  const id = personId ?? '';
  session = await beginSession(id);
  signedIn.actor = await actorOf({ id, epoch: 0, collectionId, session, turn: 0 });
});
afterEach(() => {
  leaving.abort();
  vi.useRealTimers();
});

const who = () => signedIn.actor?.personId ?? '';

/** Opens the stream; what it told so far, and whether it has ended. */
async function open() {
  const answer = await listen(new Request('http://localhost/api/live', { signal: leaving.signal }));
  const heard = { text: '', ended: false };
  const reader = answer.body?.getReader();
  const read = async (): Promise<void> => {
    const { done, value } = (await reader?.read()) ?? { done: true, value: undefined };
    heard.ended = done;
    heard.text += new TextDecoder().decode(value);
    if (!done) await read();
  };
  void read();
  // One change that is heard says that the connection listens.
  await vi.waitFor(async () => {
    await happen();
    expect(heard.text).toContain('data: ');
  }, 20_000);
  return heard;
}

const happen = (subjectId = randomUUID()) =>
  withTx(contextOf(administrator), async (work) =>
    work.audit({ kind: 'accessions.made', subjectType: 'accession', subjectId, payload: {} }),
  );
const heartbeat = () => vi.advanceTimersByTimeAsync(25_000);
const hasEnded = (heard: { ended: boolean }) =>
  vi.waitFor(() => expect(heard.ended).toBe(true), { timeout: 20_000 });

/** Nothing that happens after its end is told. */
async function tellsNothingMore(heard: { text: string }): Promise<void> {
  const [before, id] = [heard.text, randomUUID()];
  signedIn.actor = administrator;
  const other = await open();
  await happen(id);
  await vi.waitFor(() => expect(other.text).toContain(id), { timeout: 20_000 });
  expect(heard.text).toBe(before);
}

describe('who listens to live changes', () => {
  it('goes on listening while the session stands', async () => {
    const heard = await open();
    await heartbeat();
    await vi.waitFor(() => expect(heard.text).toContain(': still here'));
    expect(heard.ended).toBe(false);
  });

  it.each([
    ['signed out', () => endSession(session)],
    [
      'left idle',
      () => db().signInSession.update({ where: { id: session }, data: { lastUsedAt: new Date(0) } }),
    ],
    [
      'begun too long ago',
      () => db().signInSession.update({ where: { id: session }, data: { startedAt: new Date(0) } }),
    ],
    ['bound to a role that is gone', () => db().membership.deleteMany({ where: { personId: who() } })],
  ])('is told nothing more at the next heartbeat of a session that was %s', async (_, act) => {
    const heard = await open();
    await act();
    await heartbeat();
    await hasEnded(heard);
    await tellsNothingMore(heard);
  });

  it.each([
    ['whose sessions are ended', () => endSessions(contextOf(administrator), who())],
    [
      'whose account is closed',
      () => changeActive(contextOf(administrator), who(), { active: false, reason: 'left' }),
    ],
  ])('is told nothing more at once who is somebody %s', async (_, act) => {
    const heard = await open();
    await act();
    await hasEnded(heard);
    await tellsNothingMore(heard);
  });

  it('goes on listening with another role, and hears by a token until it is revoked', async () => {
    const roles = { roles: ['registrar' as const], reason: 'learned it' };
    await changeRoles(contextOf(administrator), who(), roles);
    const { token, row } = await makeApiToken(contextOf(administrator), {
      name: 'Listener',
      personId: who(),
      scopes: ['workspace.enter'],
      expiresOn: new Date(Date.now() + 5 * 86_400_000).toISOString().slice(0, 10),
    });
    const bySession = await open();
    signedIn.actor = await actorOfToken(token);
    const byToken = await open();
    await revokeApiToken(contextOf(administrator), row.id, 'done');
    await heartbeat();
    await hasEnded(byToken);
    expect(bySession.ended).toBe(false);
  });

  it('being listened to is no use of the session', async () => {
    const heard = await open();
    const { lastUsedAt } = await db().signInSession.findUniqueOrThrow({ where: { id: session } });
    for (let minutes = 0; minutes < 5; minutes += 1) await vi.advanceTimersByTimeAsync(60_000);
    await vi.waitFor(() => expect(heard.text).toContain(': still here'));
    const after = await db().signInSession.findUniqueOrThrow({ where: { id: session } });
    expect(after.lastUsedAt).toEqual(lastUsedAt);
  });
});
