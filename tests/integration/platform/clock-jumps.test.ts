import { randomUUID } from 'node:crypto';
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { verifyChain } from '@/lib/audit/public';
import { editComment, withdrawComment, writeComment } from '@/lib/notices/service/comments';
import type { Actor, CommandContext } from '@/lib/platform/actor';
import { pinClock } from '@/lib/platform/clock';
import { db } from '@/lib/platform/db';
import { actorOf } from '@/lib/platform/identity/session';
import { beginSession } from '@/lib/platform/identity/sessions';
import { DONE } from '@/lib/platform/tx';
import { expireClaims } from '@/lib/queue/claim-expiry';
import { takeBird } from '@/lib/queue/claims';
import { reportFind } from '@/lib/salvage/service/report';
import { advanceSkins } from '@/lib/skins/service';
import { contextOf, makeBird } from '@/seed/factories';
import { makeBenchBird, makeMaterial } from '@/seed/factories/prepared';
import { find, type Lab, makeLab } from '../salvage/build';

/** A server's clock is set back by an hour, and forward by a day, between one command and the next. */
const START = Date.parse('2026-03-14T08:00:00Z');
const HOUR = 3_600_000;
const JUMPS: [string, number][] = [
  ['back an hour', -HOUR],
  ['forward a day', 24 * HOUR],
];

let lab: Lab;
let preparator: Actor;
const clock = (offset: number) => pinClock(new Date(START + offset));

beforeEach(async () => {
  clock(0);
  lab = await makeLab();
  preparator = lab.as.preparator;
});
afterEach(() => pinClock(null));

const claimOf = (id: string) => db().bird.findUniqueOrThrow({ where: { id } });
const take = (actor: Actor, id: string) => takeBird(contextOf(actor), id, {});

describe('when the clock jumps', () => {
  it('numbers stay unique and go on rising, and the chain of the history holds', async () => {
    const numbers: string[] = [];
    for (const offset of [0, -HOUR, -2 * HOUR, 24 * HOUR, 23 * HOUR, 0]) {
      clock(offset);
      numbers.push((await reportFind(contextOf(preparator), find(lab))).number);
    }
    const running = numbers.map((number) => Number(/(\d+)$/.exec(number)?.[1]));
    expect(running).toEqual([1, 2, 3, 4, 5, 6]);
    expect(new Set(numbers).size).toBe(6);
    const events = await db().auditEvent.findMany({
      where: { collectionId: lab.collectionId },
      orderBy: { seq: 'asc' },
    });
    // The order of what happened is that of the chain, not of the instants it was told.
    const instants = events.map(({ at }) => at.getTime());
    expect(instants).not.toEqual([...instants].sort((a, b) => a - b));
    expect(await verifyChain(lab.collectionId)).toMatchObject({ ok: true });
  });

  it('over the turn of a year each number is of the year that the clock told, and none comes twice', async () => {
    const numbers: string[] = [];
    for (const at of ['2026-12-31T17:00Z', '2027-01-01T17:00Z', '2026-12-31T18:00Z', '2027-01-01T18:00Z']) {
      pinClock(new Date(at));
      numbers.push((await reportFind(contextOf(preparator), find(lab))).number);
    }
    expect(numbers.map((number) => number.replace(/^.*?(\d{4})-0*(\d+)$/, '$1 $2'))).toEqual([
      '2026 1',
      '2027 1',
      '2026 2',
      '2027 2',
    ]);
  });

  it.each(JUMPS)('%s: a claim stands, and nobody else gets its bird', async (_, jump) => {
    const { id } = await makeBird(db(), lab.collectionId);
    await take(preparator, id);
    const before = await claimOf(id);
    clock(jump);
    await expect(take(lab.as.curator, id)).rejects.toMatchObject({ code: 'conflict' });
    expect(await expireClaims(lab.collectionId)).toMatchObject({ ranOut: 0 });
    expect(await claimOf(id)).toMatchObject({
      claimedById: preparator.personId,
      claimExpiresAt: before.claimExpiresAt,
    });
  });

  it('a clock that ran ahead takes no bird away: whoever has it is told first', async () => {
    const { id } = await makeBird(db(), lab.collectionId);
    await take(preparator, id);
    clock(15 * 24 * HOUR);
    expect(await expireClaims(lab.collectionId)).toEqual({ told: 1, ranOut: 0 });
    clock(HOUR);
    expect(await expireClaims(lab.collectionId)).toEqual({ told: 0, ranOut: 0 });
    expect(await claimOf(id)).toMatchObject({ claimedById: preparator.personId });
  });

  it('a session stands an hour back; a day ahead it is over, and did not end by that', async () => {
    const id = preparator.personId ?? '';
    const session = await beginSession(id);
    const ask = () => actorOf({ id, epoch: 0, collectionId: lab.collectionId, session, turn: 0 });
    clock(-HOUR);
    expect(await ask()).toMatchObject({ personId: id });
    clock(24 * HOUR);
    expect(await ask()).toBeNull();
    // Set right again, the clock finds it as it was: nothing was written in the name of a wrong day.
    clock(HOUR / 2);
    expect(await ask()).toMatchObject({ personId: id });
  });

  it.each(JUMPS)('%s: a repeated delivery is known again', async (_, jump) => {
    const { id } = await makeBird(db(), lab.collectionId);
    const context: CommandContext = {
      ...contextOf(preparator),
      idempotency: { key: randomUUID(), route: 'POST /x', bodyDigest: 'x' },
    };
    await takeBird(context, id, {});
    clock(jump);
    const kept = await db().idempotencyKey.findFirst({ where: { key: context.idempotency?.key } });
    expect(kept).toMatchObject({ status: DONE, route: 'POST /x' });
    await expect(takeBird(context, id, {})).rejects.toMatchObject({ code: 'conflict' });
    expect(await db().auditEvent.count({ where: { birdId: id, kind: 'queue.taken' } })).toBe(1);
  });

  it.each(JUMPS)('%s: what was written is changed as ever, never before it was written', async (_, jump) => {
    const { id: subjectId } = await makeBird(db(), lab.collectionId);
    const say = () =>
      writeComment(contextOf(preparator), { subjectType: 'bird', subjectId, text: 'A graft?', field: null });
    const [kept, gone] = [await say(), await say()];
    clock(jump);
    await editComment(contextOf(preparator), kept.id, { version: kept.version, text: 'No graft.' });
    await withdrawComment(contextOf(preparator), gone.id, { version: gone.version });
    const rows = await db().comment.findMany({ where: { subjectId } });
    for (const { createdAt, editedAt, withdrawnAt } of rows)
      expect((editedAt ?? withdrawnAt)?.getTime()).toBeGreaterThanOrEqual(createdAt.getTime());
  });

  it.each(JUMPS)('%s: a step is followed by the next', async (_, jump) => {
    const bird = await makeBenchBird(db(), lab.collectionId, { preparatorId: preparator.personId ?? '' });
    const skin = await makeMaterial(db(), {
      collectionId: lab.collectionId,
      birdId: bird.id,
      kind: 'skin',
      state: 'pinned',
      createdAt: new Date(START - 30 * 24 * HOUR),
    });
    const first = { chosen: [{ materialId: skin.id, stepId: null }], to: 'drying' as const };
    await advanceSkins(contextOf(preparator), first);
    const step = await db().processStep.findFirstOrThrow({ where: { materialId: skin.id, endedAt: null } });
    clock(jump);
    await advanceSkins(contextOf(preparator), {
      chosen: [{ materialId: skin.id, stepId: step.id }],
      to: 'dry',
    });
    const steps = await db().processStep.findMany({ where: { materialId: skin.id } });
    expect(steps.filter(({ endedAt }) => endedAt === null)).toHaveLength(1);
  });
});
