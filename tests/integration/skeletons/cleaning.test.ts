import { beforeAll, describe, expect, it } from 'vitest';
import type { Actor } from '@/lib/platform/actor';
import { db } from '@/lib/platform/db';
import { answerBoneQuestion, countBox, showSkeleton } from '@/lib/skeletons/box';
import { saveProcedures, showProcedures } from '@/lib/skeletons/procedures';
import { defaultSplit } from '@/lib/skeletons/rules/split';
import type { BoxCountLine, SkeletonDetail } from '@/lib/skeletons/schema';
import { advanceSkeletons, chooseProcedure, listSkeletons } from '@/lib/skeletons/service';
import { contextOf, makeActor, makeCollection } from '@/seed/factories';
import { makeBenchBird, makeMaterial, makeUnit } from '@/seed/factories/prepared';

const DAY = 86_400_000;
const dayAgo = (days: number) => new Date(Date.now() - days * DAY).toISOString().slice(0, 10);

let collectionId: string;
let preparator: Actor;

beforeAll(async () => {
  collectionId = await makeCollection(db());
  preparator = await makeActor(db(), collectionId, 'preparator');
});

async function makeSkeleton(input: { preparatorId?: string; state?: string; daysAgo?: number } = {}) {
  const bird = await makeBenchBird(db(), collectionId, {
    preparatorId: input.preparatorId ?? preparator.personId ?? '',
  });
  return makeMaterial(db(), {
    collectionId,
    birdId: bird.id,
    kind: 'skeleton',
    state: input.state ?? 'rough-cleaned',
    createdAt: new Date(Date.now() - (input.daysAgo ?? 60) * DAY),
  });
}

const openStep = (materialId: string) => db().processStep.findFirst({ where: { materialId, endedAt: null } });
const latestStep = (materialId: string) =>
  db().processStep.findFirst({ where: { materialId }, orderBy: [{ startedAt: 'desc' }, { id: 'desc' }] });
const chosen = async (ids: string[]) =>
  Promise.all(
    ids.map(async (materialId) => ({ materialId, stepId: (await latestStep(materialId))?.id ?? null })),
  );
const take = async (ids: string[], procedureId: string, doneOn?: string) =>
  chooseProcedure(contextOf(preparator), { chosen: await chosen(ids), procedureId, doneOn });
type Request = Omit<Parameters<typeof advanceSkeletons>[1], 'chosen'>;
const advance = async (ids: string[], request: Request, actor = preparator) =>
  advanceSkeletons(contextOf(actor), { chosen: await chosen(ids), ...request });

/** Takes a skeleton through its whole procedure, a day a step, up to the step of the count. */
async function advanceToCount(id: string): Promise<void> {
  await take([id], 'enzymes', dayAgo(30));
  for (const [index, temperatureC] of [null, null, null, null, -20].entries()) {
    await advance([id], { to: 'next', doneOn: dayAgo(29 - index), temperatureC });
  }
  await advance([id], { to: 'next', doneOn: dayAgo(1) });
}

describe('cleaning skeletons', () => {
  it('begins with a procedure, and moves a batch on, each to its own next step', async () => {
    const [one, two] = [await makeSkeleton(), await makeSkeleton()];
    await expect(advance([one.id], { to: 'next' })).rejects.toMatchObject({
      fields: [{ message: expect.stringContaining('choose a procedure first') }],
    });
    await take([one.id], 'beetles', dayAgo(20));
    await take([two.id], 'maceration', dayAgo(20));
    await expect(take([one.id], 'beetles')).rejects.toMatchObject({ code: 'not-valid' });
    await advance([one.id], { to: 'next', doneOn: dayAgo(19) });
    const { moved } = await advance([one.id, two.id], {
      to: 'next',
      method: 'colony 2, tank B',
      doneOn: dayAgo(18),
    });
    const sorted = moved.map(({ step, state }) => `${step}: ${state}`).sort();
    expect(sorted).toEqual(['In the colony: cleaning', 'In warm water: cleaning']);
    expect(await openStep(one.id)).toMatchObject({
      step: 'beetles',
      state: 'cleaning',
      procedureId: 'beetles',
      method: 'colony 2, tank B',
    });
    expect(await db().processStep.count({ where: { materialId: one.id, endedAt: null } })).toBe(1);
    const kinds = await db().auditEvent.findMany({ where: { subjectId: one.id }, orderBy: { seq: 'asc' } });
    expect(kinds.map(({ kind }) => kind)).toEqual([
      'skeletons.procedure-chosen',
      'skeletons.step-begun',
      'skeletons.step-begun',
    ]);

    // In the colony since 18 days, expected 2–14: four days late. In warm water 4–21: not late.
    const { groups } = await listSkeletons(preparator, { state: 'cleaning', size: 50 });
    const rows = groups[0]?.rows.filter(({ id }) => id === one.id || id === two.id);
    expect(rows?.map(({ id, stay }) => [id, stay.status, stay.overdueDays])).toEqual([
      [one.id, 'overdue', 4],
      [two.id, 'on-time', 0],
    ]);
  });

  it('goes back a step, takes another procedure midway, and never to a step that is not allowed', async () => {
    const { id } = await makeSkeleton();
    await take([id], 'enzymes');
    await advance([id], { to: 'next' });
    await advance([id], { to: 'degrease' });
    await advance([id], { to: 'rinse' });
    await expect(advance([id], { to: 'number' })).rejects.toMatchObject({
      fields: [{ message: expect.stringContaining('cannot go to Number and count from there') }],
    });
    await expect(advance([id], { to: 'shelf' })).rejects.toMatchObject({ code: 'not-valid' });
    await take([id], 'beetles');
    expect(await openStep(id)).toMatchObject({ step: 'beetles', state: 'cleaning' });
  });

  it('changes nothing of a batch in which one was moved on meanwhile', async () => {
    const [one, two] = [await makeSkeleton(), await makeSkeleton()];
    await take([one.id, two.id], 'enzymes');
    const seen = await chosen([one.id, two.id]);
    await advance([two.id], { to: 'next' });
    await expect(advanceSkeletons(contextOf(preparator), { chosen: seen, to: 'next' })).rejects.toMatchObject(
      { code: 'conflict', message: expect.stringContaining('moved on by somebody else') },
    );
    expect((await openStep(one.id))?.step).toBe('flesh');
  });

  it('is done by those who work on the skeleton, and by bench staff', async () => {
    const volunteer = await makeActor(db(), collectionId, 'volunteer');
    const [own, others] = [
      await makeSkeleton({ preparatorId: volunteer.personId ?? '' }),
      await makeSkeleton(),
    ];
    await take([own.id, others.id], 'enzymes');
    await expect(advance([own.id], { to: 'next' }, volunteer)).resolves.toBeDefined();
    await expect(advance([others.id], { to: 'next' }, volunteer)).rejects.toMatchObject({
      code: 'forbidden',
    });
    for (const role of ['registrar', 'permit-officer', 'visitor'] as const) {
      const actor = await makeActor(db(), collectionId, role);
      await expect(advance([others.id], { to: 'next' }, actor)).rejects.toMatchObject({ code: 'forbidden' });
    }
  });
});

describe('the lab’s procedures', () => {
  it('are changed by bench staff, for steps begun from then on', async () => {
    const own = await makeCollection(db());
    const curator = await makeActor(db(), own, 'curator');
    await db().collection.update({ where: { id: own }, data: { settings: { numbers: { loan: 'L{n}' } } } });
    const book = await showProcedures(curator);
    expect(book).toMatchObject({ inUse: {}, abilities: { change: true } });
    const procedures = book.procedures.map((procedure) => ({
      ...procedure,
      steps: procedure.steps.map((step) => ({ ...step, expectedDays: { min: 0, max: 100 } })),
    }));
    const saved = await saveProcedures(contextOf(curator), {
      stamp: book.stamp,
      procedures,
      reason: 'Slow winter.',
    });
    expect(saved.procedures[0]?.steps[0]?.expectedDays.max).toBe(100);
    expect((await db().collection.findUniqueOrThrow({ where: { id: own } })).settings).toMatchObject({
      numbers: { loan: 'L{n}' },
    });
    await expect(
      saveProcedures(contextOf(curator), { stamp: book.stamp, procedures, reason: 'Again.' }),
    ).rejects.toMatchObject({ code: 'stale-version' });
    const volunteer = await makeActor(db(), own, 'volunteer');
    expect((await showProcedures(volunteer)).abilities.change).toBe(false);
    await expect(
      saveProcedures(contextOf(volunteer), { stamp: saved.stamp, procedures, reason: 'Mine.' }),
    ).rejects.toMatchObject({ code: 'forbidden' });
  });

  it('keep a step in which a skeleton lies', async () => {
    const { id } = await makeSkeleton();
    await take([id], 'maceration');
    const book = await showProcedures(preparator);
    expect(book.inUse['maceration/flesh']).toBeGreaterThan(0);
    const without = book.procedures.filter((procedure) => procedure.id !== 'maceration');
    await expect(
      saveProcedures(contextOf(preparator), { stamp: book.stamp, procedures: without, reason: 'No hood.' }),
    ).rejects.toMatchObject({
      code: 'not-valid',
      fields: expect.arrayContaining([
        { path: 'procedures', message: expect.stringContaining('maceration: flesh cannot go') },
      ]),
    });
  });
});

describe('boxing', () => {
  const linesFor = (detail: SkeletonDetail): BoxCountLine[] =>
    detail.box.map(({ element, side, expected }) => ({ element, side, count: expected.min }));

  async function counted() {
    const skeleton = await makeSkeleton();
    const entries = defaultSplit('skin-with-partial-skeleton', { wing: 'right', leg: 'right' });
    await db().boneEntry.createMany({
      data: entries.map((entry) => ({ ...entry, birdId: skeleton.birdId })),
    });
    await advanceToCount(skeleton.id);
    return skeleton;
  }

  it('keeps a count that agrees, and opens no question', async () => {
    const { id } = await counted();
    const before = await showSkeleton(preparator, id);
    expect(before).toMatchObject({ state: 'counted', lastCount: null, bookBalanced: true });
    const after = await countBox(contextOf(preparator), id, {
      version: before.version,
      lines: linesFor(before),
    });
    expect(after.questions).toEqual([]);
    expect(after.box.every(({ verdict }) => verdict === 'agrees')).toBe(true);
    expect(after.lastCount?.by).toBe(preparator.name);
    const place = { unitId: await makeUnit(db(), collectionId) };
    await expect(advance([id], { to: 'next', place })).resolves.toMatchObject({
      moved: [{ state: 'shelved' }],
    });
  });

  it('opens a question for a missing bone and leaves the book as it is, until somebody answers', async () => {
    const { id, birdId } = await counted();
    const before = await showSkeleton(preparator, id);
    const book = await db().boneEntry.findMany({ where: { birdId }, orderBy: { element: 'asc' } });
    const lines = linesFor(before).map((line) =>
      line.element === 'femur' && line.side === 'right' ? { ...line, count: 0 } : line,
    );
    const extra: BoxCountLine = { element: 'humerus', side: 'left', count: 1 };
    const after = await countBox(contextOf(preparator), id, {
      version: before.version,
      lines: [...lines, extra],
    });
    expect(after.questions.map(({ element, side, answer }) => [element, side, answer]).sort()).toEqual([
      ['femur', 'right', null],
      ['humerus', 'left', null],
    ]);
    expect(await db().boneEntry.findMany({ where: { birdId }, orderBy: { element: 'asc' } })).toEqual(book);

    const place = { unitId: await makeUnit(db(), collectionId) };
    await expect(advance([id], { to: 'shelf', place })).rejects.toMatchObject({
      fields: [{ message: expect.stringContaining('2 questions of its count are open') }],
    });
    const [row] = (await listSkeletons(preparator, { state: 'counted', size: 200 })).groups[0]?.rows.filter(
      (one) => one.id === id,
    ) ?? [undefined];
    expect(row?.openQuestions).toBe(2);

    const [question] = after.questions;
    const answer = { answer: 'It was in the vial of small bones.' };
    const answered = await answerBoneQuestion(contextOf(preparator), question?.id ?? '', answer);
    expect(answered.questions.filter((one) => one.answer === null)).toHaveLength(1);
    await expect(answerBoneQuestion(contextOf(preparator), question?.id ?? '', answer)).rejects.toMatchObject(
      { code: 'conflict' },
    );

    const again = await countBox(contextOf(preparator), id, {
      version: after.version,
      lines: linesFor(before),
    });
    expect(again.questions.filter((one) => one.answer === null)).toEqual([]);
    expect(again.questions.map((one) => one.answer).sort()).toEqual([
      'Counted again; see the later count.',
      'It was in the vial of small bones.',
    ]);
  });

  it('refuses a count on an older version, and before the bones are dry', async () => {
    const { id } = await counted();
    const { version, box } = await showSkeleton(preparator, id);
    const lines = box.map(({ element, side }) => ({ element, side, count: 1 }));
    await countBox(contextOf(preparator), id, { version, lines });
    await expect(countBox(contextOf(preparator), id, { version, lines })).rejects.toMatchObject({
      code: 'stale-version',
    });
    const wet = await makeSkeleton();
    await take([wet.id], 'beetles');
    const detail = await showSkeleton(preparator, wet.id);
    expect(detail.abilities).toEqual({ advance: true, count: false });
    await expect(
      countBox(contextOf(preparator), wet.id, { version: detail.version, lines }),
    ).rejects.toMatchObject({ code: 'conflict', message: expect.stringContaining('not dry yet') });
  });

  it('is not shelved uncounted without a word', async () => {
    const { id } = await counted();
    const place = { unitId: await makeUnit(db(), collectionId) };
    await expect(advance([id], { to: 'shelf', place })).rejects.toMatchObject({
      fields: [{ message: expect.stringContaining('not counted against the bone book') }],
    });
    await advance([id], { to: 'shelf', place, note: 'Too small to count; in one vial.' });
    const stored = await db().material.findUniqueOrThrow({ where: { id }, include: { placement: true } });
    expect(stored).toMatchObject({ state: 'shelved', placement: { unitId: place.unitId } });
    expect(await openStep(id)).toBeNull();

    // Something living was found in the box: back into the freezer, of the same procedure.
    await advance([id], { to: 'pest-freeze', temperatureC: -25 });
    expect(await openStep(id)).toMatchObject({ state: 'pest-freeze', procedureId: 'enzymes' });
  });
});
