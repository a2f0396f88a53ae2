import { beforeEach, describe, expect, it } from 'vitest';
import type { Actor } from '@/lib/platform/actor';
import { db } from '@/lib/platform/db';
import { takeBird } from '@/lib/queue/claims';
import { queueTasks } from '@/lib/queue/jobs';
import { putPlanInForce } from '@/lib/queue/plan-in-force';
import { solvePlan } from '@/lib/queue/plan-solve';
import { type DayPlanAnswer, planChange, planRequest } from '@/lib/queue/plan-wire';
import { askPlan, changePlan, setPlanAside, showPlan, stopPlan } from '@/lib/queue/plans';
import type { SkillLevel } from '@/lib/queue/schema';
import { signSkill } from '@/lib/queue/skills';
import { contextOf, makeActor, makeBird, makeCollection, makeTaxon } from '@/seed/factories';

const STYLE = 'skin-with-partial-skeleton';
let collectionId: string;
let curator: Actor;
let preparator: Actor;

beforeEach(async () => {
  collectionId = await makeCollection(db());
  await makeTaxon(db());
  curator = await makeActor(db(), collectionId, 'curator');
  preparator = await makeActor(db(), collectionId, 'preparator');
});

const idOf = (actor: Actor): string => actor.personId ?? '';

async function learn(actor: Actor, level: SkillLevel): Promise<void> {
  await signSkill(contextOf(curator), { personId: idOf(actor), style: STYLE, sizeClass: 'medium', level });
}

const day = (people: Actor[], more: object = {}) =>
  planRequest.parse({
    planOn: '2026-12-01',
    people: people.map((actor) => ({ personId: idOf(actor), fromMinute: 540, untilMinute: 1020 })),
    benchPlaces: 6,
    seconds: 20,
    ...more,
  });

async function solved(request: ReturnType<typeof day>): Promise<DayPlanAnswer> {
  const asked = await askPlan(contextOf(curator), request);
  expect(asked.state).toBe('asked');
  await solvePlan(asked.id, collectionId);
  return showPlan(curator, asked.id);
}

describe('a day plan from the database', () => {
  it('honours skills and holds, and says that it is proved best', async () => {
    const volunteer = await makeActor(db(), collectionId, 'volunteer');
    await learn(volunteer, 'alone');
    const [fits, large, held] = await Promise.all([1, 2, 3].map(() => makeBird(db(), collectionId)));
    await db().bird.update({ where: { id: large?.id }, data: { sizeClass: 'large', priority: 90 } });
    await db().bird.update({ where: { id: held?.id }, data: { priority: 95 } });
    await db().hold.create({
      data: { salvageId: held?.salvageId ?? '', kind: 'disease', reason: 'suspected influenza' },
    });
    const plan = await solved(day([volunteer]));
    expect(plan.state).toBe('proposed');
    expect(plan.outcome.result).toMatchObject({ outcome: 'proved-best', quality: /^Proved best/ });
    expect(plan.lines.map((line) => [line.birdId, line.personId])).toEqual([[fits?.id, idOf(volunteer)]]);
    expect(plan.lines[0]?.startAt).toBe('2026-12-01T09:00');
    expect(plan.pull.flatMap((round) => round.lines.map((line) => line.birdId))).toEqual([fits?.id]);
  });

  it('a trainee works only beside a supervisor; without one the day says which rule stands in the way', async () => {
    const trainee = await makeActor(db(), collectionId, 'volunteer');
    await learn(trainee, 'supervised');
    await learn(preparator, 'alone');
    await makeBird(db(), collectionId);
    await makeBird(db(), collectionId);
    const alone = await solved(day([trainee]));
    expect(alone.state).toBe('no-plan');
    expect(alone.outcome.result).toMatchObject({
      outcome: 'infeasible',
      rules: [{ rule: 'supervision', sentence: expect.stringMatching(/^Nobody who comes may supervise/) }],
    });
    const both = await solved(day([trainee, preparator]));
    expect(both.lines.find((line) => line.personId === idOf(trainee))?.supervisorId).toBe(idOf(preparator));
  });

  it('uses the times of finished records once there are enough of them', async () => {
    await learn(preparator, 'alone');
    const done = await Promise.all(
      [70, 80, 90, 100, 110].map(async (minutes, at) => {
        const bird = await makeBird(db(), collectionId, { birdState: 'prepared' });
        const startedAt = new Date(Date.UTC(2026, 9, 1 + at, 9));
        return db().benchRecord.create({
          data: {
            collectionId,
            birdId: bird.id,
            prepNumber: `P${at}`,
            styleId: STYLE,
            preparatorId: idOf(preparator),
            startedAt,
            finishedAt: new Date(startedAt.getTime() + minutes * 60_000),
          },
        });
      }),
    );
    expect(done).toHaveLength(5);
    await makeBird(db(), collectionId);
    const plan = await solved(day([preparator]));
    expect(plan.lines[0]?.minutes).toBe(90);
    expect(plan.outcome.times[0]?.sentence).toMatch(/^Median 90 minutes of 5 records/);
  });

  it('keeps a hand change and plans around it; a change made on an older plan is refused', async () => {
    const other = await makeActor(db(), collectionId, 'volunteer');
    await learn(preparator, 'alone');
    await learn(other, 'alone');
    const birds = await Promise.all([1, 2].map(() => makeBird(db(), collectionId)));
    const plan = await solved(day([preparator, other]));
    const swapped = birds.map((bird) => ({
      birdId: bird.id,
      personId:
        plan.lines.find((line) => line.birdId === bird.id)?.personId === idOf(other)
          ? idOf(preparator)
          : idOf(other),
    }));
    const change = planChange.parse({ ...plan.input, version: plan.version, fixed: swapped });
    const again = await changePlan(contextOf(curator), plan.id, change);
    await solvePlan(again.id, collectionId);
    const changed = await showPlan(curator, plan.id);
    for (const { birdId, personId } of swapped)
      expect(changed.lines.find((line) => line.birdId === birdId)).toMatchObject({ personId, byHand: true });
    await expect(changePlan(contextOf(curator), plan.id, change)).rejects.toMatchObject({
      code: 'stale-version',
    });
  });

  it('a bird somebody has taken is theirs in the plan, and what thaws must be done', async () => {
    const other = await makeActor(db(), collectionId, 'volunteer');
    await learn(preparator, 'alone');
    await learn(other, 'alone');
    const [taken, thawing] = await Promise.all([1, 2].map(() => makeBird(db(), collectionId)));
    await takeBird(contextOf(other), taken?.id ?? '', {});
    await takeBird(contextOf(other), thawing?.id ?? '', {});
    await db().bird.update({
      where: { id: thawing?.id },
      data: { state: 'thawing', thawStartedAt: new Date() },
    });
    const plan = await solved(day([preparator, other]));
    expect(plan.lines.map((line) => line.personId)).toEqual([idOf(other), idOf(other)]);
    const short = day([preparator]);
    const [guest] = day([other]).people;
    if (guest !== undefined) short.people.push({ ...guest, untilMinute: guest.fromMinute + 30 });
    const impossible = await solved(short);
    expect(impossible.outcome.result).toMatchObject({ outcome: 'infeasible' });
    const said = JSON.stringify(impossible.outcome.result);
    expect(said).toContain('"hours"');
  });
});

describe('a plan and its solver', () => {
  it('stopping throws the answer away, and the job of a stopped plan does nothing', async () => {
    await learn(preparator, 'alone');
    await makeBird(db(), collectionId);
    const asked = await askPlan(contextOf(curator), day([preparator]));
    const job = solvePlan(asked.id, collectionId);
    const stopped = await stopPlan(contextOf(curator), asked.id);
    expect(stopped.state).toBe('stopped');
    await job;
    await queueTasks['queue.solve-plan']?.({ planId: asked.id, collectionId }, {} as never);
    expect(await showPlan(curator, asked.id)).toMatchObject({ state: 'stopped', outcome: { result: null } });
  });

  it('an empty queue and an unknown person are said, not failures', async () => {
    const plan = await solved(day([preparator]));
    expect(plan.state).toBe('no-plan');
    expect(plan.outcome.result).toMatchObject({ outcome: 'nothing-to-plan' });
  });
});

describe('putting a plan in force', () => {
  it('claims each bird for its person; a bird taken meanwhile or held is named, the others are given', async () => {
    const other = await makeActor(db(), collectionId, 'preparator');
    await learn(preparator, 'alone');
    for (let at = 0; at < 4; at++) {
      const bird = await makeBird(db(), collectionId);
      await db().bird.update({ where: { id: bird.id }, data: { sizeClass: 'medium', priority: 50 + at } });
    }
    const long = day([preparator]);
    const [guest] = long.people;
    if (guest !== undefined) Object.assign(guest, { fromMinute: 0, untilMinute: 1440 });
    const plan = await solved(long);
    expect(plan.lines).toHaveLength(4);
    const [first, second] = plan.lines;
    await takeBird(contextOf(other), first?.birdId ?? '', {});
    const held = await db().bird.findUniqueOrThrow({ where: { id: second?.birdId } });
    await db().hold.create({ data: { salvageId: held.salvageId, kind: 'legal', reason: 'permit question' } });
    const inForce = await putPlanInForce(contextOf(curator), plan.id, plan.version);
    expect(inForce.state).toBe('in-force');
    expect(inForce.outcome.refused.map((one) => one.birdId).sort()).toEqual(
      [first?.birdId, second?.birdId].sort(),
    );
    expect(inForce.lines.find((line) => line.birdId === first?.birdId)?.refused).toContain(other.name);
    const mine = await db().bird.count({ where: { claimedById: idOf(preparator), state: 'claimed' } });
    expect(mine).toBe(2);
    await expect(putPlanInForce(contextOf(curator), plan.id, inForce.version)).rejects.toMatchObject({
      code: 'conflict',
    });
  });

  it('of two plans of a day the later one is in force, the claims of the first stay', async () => {
    await learn(preparator, 'alone');
    const bird = await makeBird(db(), collectionId);
    const first = await solved(day([preparator]));
    await putPlanInForce(contextOf(curator), first.id, first.version);
    const second = await solved(day([preparator]));
    expect(second.lines.map((line) => line.birdId)).toEqual([bird.id]);
    await putPlanInForce(contextOf(curator), second.id, second.version);
    expect((await showPlan(curator, first.id)).state).toBe('set-aside');
    expect((await showPlan(curator, second.id)).lines[0]).toMatchObject({
      refused: null,
      bird: { state: 'claimed', claimedBy: { id: idOf(preparator) } },
    });
    await setPlanAside(contextOf(curator), second.id);
    expect((await db().bird.findUniqueOrThrow({ where: { id: bird.id } })).state).toBe('claimed');
  });
});
