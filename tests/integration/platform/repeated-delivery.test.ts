import { beforeAll, describe, expect, it, vi } from 'vitest';
import { POST as followBirds } from '@/app/api/notices/follow/birds/route';
import { POST as takeBird } from '@/app/api/queue/[id]/take/route';
import type { Actor } from '@/lib/platform/actor';
import { db } from '@/lib/platform/db';
import { forgetOldAnswers } from '@/lib/platform/kept-answers';
import { makeActor, makeBird, makeCollection } from '@/seed/factories';

const signedIn: { actor: Actor | null } = { actor: null };
vi.mock('@/lib/platform/identity/session', () => ({ currentActor: async () => signedIn.actor }));

let id: string;
beforeAll(async () => {
  const collectionId = await makeCollection(db());
  signedIn.actor = await makeActor(db(), collectionId, 'preparator');
  ({ id } = await makeBird(db(), collectionId));
  await db().bird.update({
    where: { id },
    data: { state: 'queued', styleId: 'whole-skeleton', sizeClass: 'small' },
  });
});

const take = (key: string) =>
  takeBird(
    new Request(`http://localhost/api/queue/${id}/take`, {
      method: 'POST',
      body: '{}',
      headers: { 'idempotency-key': key },
    }),
    { params: Promise.resolve({ id }) },
  );

describe('a command that is delivered twice under one key', () => {
  it('is carried out once and answered alike, also where the answer is read after its transaction', async () => {
    const first = await take('one');
    expect(first.status, await first.clone().text()).toBe(200);
    const again = await take('one');
    expect(again.status).toBe(200);
    expect(await again.json()).toEqual(await first.json());
    expect(await db().auditEvent.count({ where: { birdId: id, kind: 'queue.taken' } })).toBe(1);
  });

  it('says that it was carried out where the process ended before the answer was kept', async () => {
    await db().$executeRaw`UPDATE "IdempotencyKey" SET body = 'null'`;
    const again = await take('one');
    expect(again.status).toBe(409);
    expect(await again.json()).toMatchObject({
      title: 'This was carried out already, and its answer was lost. Reload to see what stands.',
    });
  });
});

describe('a bulk command that is delivered again under one key', () => {
  const follow = (...birdIds: string[]) =>
    followBirds(
      new Request('http://localhost/api/notices/follow/birds', {
        method: 'POST',
        body: JSON.stringify({ birdIds, follow: true }),
        headers: { 'idempotency-key': 'many' },
      }),
      { params: Promise.resolve({}) },
    );
  const followed = () => db().auditEvent.count({ where: { kind: 'notices.followed' } });

  it('does what was not done, answers the rest as done, and is refused for other birds', async () => {
    const { id: other, collectionId } = await makeBird(db(), await makeCollection(db()));
    const first = await follow(id, other);
    expect(await first.json()).toMatchObject({
      rows: [
        { id, problem: null },
        { id: other, problem: expect.any(String) },
      ],
    });
    expect(await followed()).toBe(1);

    const own = signedIn.actor?.collectionId ?? '';
    expect(own).not.toBe(collectionId);
    await db().bird.update({ where: { id: other }, data: { collectionId: own } });
    const again = await follow(id, other);
    expect(await again.json()).toEqual({
      rows: [
        { id, problem: null },
        { id: other, problem: null },
      ],
    });
    expect(await followed()).toBe(2);
    expect((await follow(id)).status).toBe(409);
    expect(await followed()).toBe(2);
  });
});

it('answers are forgotten after 30 days, not before', async () => {
  const kept = () => db().idempotencyKey.count({ where: { key: 'one' } });
  const age = (days: number) =>
    db()
      .$executeRaw`UPDATE "IdempotencyKey" SET "createdAt" = now() - ${days} * interval '1 day' WHERE key = 'one'`;
  await age(29);
  await forgetOldAnswers();
  expect(await kept()).toBe(1);
  await age(31);
  await forgetOldAnswers();
  expect(await kept()).toBe(0);
});
