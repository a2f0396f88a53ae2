import { beforeEach, describe, expect, it } from 'vitest';
import type { Actor } from '@/lib/platform/actor';
import { db } from '@/lib/platform/db';
import { changeChoices, previewChoices, showChoices } from '@/lib/queue/choices';
import { downloadForecast, showForecast } from '@/lib/queue/forecast';
import { rankQueue } from '@/lib/queue/jobs';
import { contextOf, makeActor, makeBird, makeCollection } from '@/seed/factories';

const DAY_MS = 86_400_000;
let collectionId: string;
let curator: Actor;

beforeEach(async () => {
  collectionId = await makeCollection(db());
  curator = await makeActor(db(), collectionId, 'curator');
});

/** One bird old in the freezer, one just frozen and asked for. */
async function makeTwo(): Promise<{ old: string; asked: string }> {
  const old = await makeBird(db(), collectionId);
  const asked = await makeBird(db(), collectionId);
  await db().bird.update({ where: { id: old.id }, data: { frozenAt: new Date(Date.now() - 700 * DAY_MS) } });
  await db().bird.update({
    where: { id: asked.id },
    data: { frozenAt: new Date(), requestReason: 'gap in the series', requestUrgency: 'now' },
  });
  await rankQueue(collectionId);
  return { old: old.id, asked: asked.id };
}

const priorityOf = async (id: string) => (await db().bird.findUniqueOrThrow({ where: { id } })).priority;

describe('weights of the priority', () => {
  it('shows which birds would change places, saves, and ranks the queue at once', async () => {
    const { old, asked } = await makeTwo();
    expect(await priorityOf(asked)).toBeGreaterThan(await priorityOf(old));
    const { choices } = await showChoices(curator);
    const weights = { ...choices.weights, request: 0, 'freezer-time': 10 };
    const preview = await previewChoices(curator, { weights, scales: choices.scales });
    expect(preview.movedCount).toBe(2);
    expect(preview.moved.find(({ birdId }) => birdId === old)).toMatchObject({ rankBefore: 2, rankAfter: 1 });
    expect(await priorityOf(asked), 'a preview saves nothing').toBeGreaterThan(await priorityOf(old));
    await changeChoices(contextOf(curator), { from: choices, to: { ...choices, weights } });
    expect(await priorityOf(old)).toBeGreaterThan(await priorityOf(asked));
    const [event] = await db().auditEvent.findMany({
      where: { collectionId, kind: 'queue.settings-changed' },
    });
    expect(event?.payload).toMatchObject({ birds: 2, changes: { 'weights.request': { from: 4, to: 0 } } });
  });

  it('does not overwrite what somebody else saved meanwhile, and keeps the other settings', async () => {
    await db().collection.update({
      where: { id: collectionId },
      data: { settings: { other: { kept: true } } },
    });
    const { choices } = await showChoices(curator);
    const claims = { ...choices.claims, claimDays: 21 };
    await changeChoices(contextOf(curator), { from: choices, to: { ...choices, claims } });
    await expect(
      changeChoices(contextOf(curator), {
        from: choices,
        to: { ...choices, claims: { ...claims, noticeDays: 5 } },
      }),
    ).rejects.toMatchObject({ code: 'stale-version' });
    const { settings } = await db().collection.findUniqueOrThrow({ where: { id: collectionId } });
    expect(settings).toMatchObject({
      other: { kept: true },
      queue: { claims: { claimDays: 21, noticeDays: 3 } },
    });
  });
});

describe('the forecast from the database', () => {
  it('says what is missing before anything was finished', async () => {
    expect((await showForecast(curator, { extra: 0, weeks: 8 })).obstacle).toMatch(/^No bird has come in/);
    await makeBird(db(), collectionId, { receivedOn: '2026-01-05' });
    expect((await showForecast(curator, { extra: 0, weeks: 8 })).obstacle).toMatch(/^No preparation/);
  });

  it('learns from received and finished birds; more people leave fewer birds waiting; the table has both', async () => {
    const day = (ago: number) => new Date(Date.now() - ago * DAY_MS);
    for (let at = 0; at < 30; at++) {
      const receivedOn = day(100 - at)
        .toISOString()
        .slice(0, 10);
      const finished = at < 10;
      const bird = await makeBird(db(), collectionId, {
        receivedOn,
        birdState: finished ? 'prepared' : 'queued',
      });
      if (finished)
        await db().benchRecord.create({
          data: {
            collectionId,
            birdId: bird.id,
            prepNumber: `F${at}`,
            styleId: 'skin-with-partial-skeleton',
            preparatorId: curator.personId ?? '',
            startedAt: new Date(day(60 - 5 * at).getTime() - 3_600_000),
            finishedAt: day(60 - 5 * at),
          },
        });
    }
    const answer = await showForecast(curator, { extra: 3, weeks: 26 });
    expect(answer).toMatchObject({ backlog: 20, learned: { received: 30, prepared: 10 } });
    const last = (one: typeof answer.today) => one?.weeks.at(-1)?.mean ?? Number.NaN;
    expect(last(answer.changed)).toBeLessThan(last(answer.today));
    const file = await downloadForecast(curator, { extra: 3, weeks: 26 });
    const lines = String(file.body).trim().split('\n');
    expect(lines).toHaveLength(1 + 2 * 26);
    expect(lines[0]).toBe('extraPeople,week,on,mean,p5,p25,p50,p75,p95,clearedShare');
  });
});
