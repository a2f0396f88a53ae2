import { beforeAll, describe, expect, it } from 'vitest';
import { findPeerValues } from '@/lib/bench/repo/comparison';
import { divideCarcass } from '@/lib/bench/service/divide';
import { writeEntries } from '@/lib/bench/service/entries';
import { listRecords, showDesk, showRecord, startRecord } from '@/lib/bench/service/records';
import { markApproved, markReturned, sendToReview, takeBack } from '@/lib/bench/service/review';
import { answerRemark, changeScribe, changeStyle, explainWarning, markStep } from '@/lib/bench/service/work';
import { divideRequest } from '@/lib/bench/wire-acts';
import { benchListQuery } from '@/lib/bench/wire-desk';
import type { Actor } from '@/lib/platform/actor';
import { db } from '@/lib/platform/db';
import { withTx } from '@/lib/platform/tx';
import { contextOf, makeActor, makeBird, makeCollection, makeTaxon } from '@/seed/factories';
import { delivery, entry, makeRecord, wholeRecord } from './build';

let collectionId: string;
let volunteer: Actor;
let preparator: Actor;
let curator: Actor;

beforeAll(async () => {
  collectionId = await makeCollection(db());
  volunteer = await makeActor(db(), collectionId, 'volunteer');
  preparator = await makeActor(db(), collectionId, 'preparator');
  curator = await makeActor(db(), collectionId, 'curator');
});

const SKIN_AND_BONES = divideRequest.parse({
  products: [{ kind: 'skin' }, { kind: 'skeleton' }, { kind: 'stomach' }],
});
const birdOf = (id: string) =>
  db().bird.findUniqueOrThrow({ where: { id }, include: { materials: { orderBy: { suffix: 'asc' } } } });

async function makeDivided(actor: Actor, entries = wholeRecord()) {
  const record = await makeRecord(actor);
  await writeEntries(contextOf(actor), record.id, delivery(...entries));
  return divideCarcass(contextOf(actor), record.id, SKIN_AND_BONES);
}

describe('starting a record', () => {
  it('numbers it for its preparator, brings the carcass to the bench, and answers the same when asked again', async () => {
    const record = await makeRecord(volunteer);
    expect(record).toMatchObject({ state: 'draft', carcassState: 'on-the-bench', values: {} });
    expect(record.preparator.id).toBe(volunteer.personId);
    const again = await startRecord(contextOf(volunteer), record.birdId);
    expect(again.id).toBe(record.id);
    const next = await makeRecord(volunteer);
    const running = (number: string) => Number(/(\d+)$/.exec(number)?.[1]);
    expect(running(next.prepNumber)).toBe(running(record.prepNumber) + 1);
  });

  it('makes one record of two people who press at once', async () => {
    const bird = await makeBird(db(), collectionId, {
      birdState: 'thawing',
      claimedById: volunteer.personId ?? undefined,
    });
    const [one, two] = await Promise.all([
      startRecord(contextOf(volunteer), bird.id),
      startRecord(contextOf(preparator), bird.id),
    ]);
    expect(one.id).toBe(two.id);
    expect(one.preparator.id).toBe(volunteer.personId);
  });

  it('is refused to a volunteer who did not take the bird, and for a bird that nobody took', async () => {
    const claimed = await makeBird(db(), collectionId, {
      birdState: 'claimed',
      claimedById: preparator.personId ?? undefined,
    });
    await expect(startRecord(contextOf(volunteer), claimed.id)).rejects.toMatchObject({ code: 'forbidden' });
    const queued = await makeBird(db(), collectionId);
    await expect(startRecord(contextOf(preparator), queued.id)).rejects.toMatchObject({ code: 'conflict' });
    expect(await db().benchRecord.count({ where: { birdId: { in: [claimed.id, queued.id] } } })).toBe(0);
  });
});

describe('working on a record', () => {
  it('marks steps, which start the clocks, and takes marks back', async () => {
    const record = await makeRecord(volunteer);
    const thawed = await markStep(contextOf(volunteer), record.id, { step: 'thaw', done: true, waitedMs: 0 });
    expect(thawed.steps.thaw?.by.name).toBe(volunteer.name);
    expect(thawed.times.workableAt).toBe(thawed.steps.thaw?.at);
    const back = await markStep(contextOf(volunteer), record.id, { step: 'thaw', done: false, waitedMs: 0 });
    expect(back.times.workableAt).toBeNull();
    await expect(
      markStep(contextOf(volunteer), record.id, { step: 'polish', done: true, waitedMs: 0 }),
    ).rejects.toMatchObject({ code: 'not-valid' });
  });

  it('warns against the same taxon here, and keeps why the figure stands', async () => {
    const taxonId = await makeTaxon(db(), { scientificName: 'Spizella passerina' });
    for (const [at, wingMm] of [68, 69, 70, 70.5, 71, 71.5, 72].entries()) {
      const other = await makeRecord(preparator, { taxonId });
      const entries = [entry('wingMm', wingMm), entry('sex', 'female'), entry('massG', 12 + at / 10)];
      await writeEntries(contextOf(preparator), other.id, delivery(...entries));
    }
    const record = await makeRecord(volunteer, { taxonId });
    await writeEntries(
      contextOf(volunteer),
      record.id,
      delivery(entry('wingMm', 79), entry('leftOvary', { lengthMm: 4 }), entry('ovaryState', 'granular')),
    );
    const after = await showRecord(volunteer, record.id);
    const warning = after.warnings.find(({ check }) => check === 'peers');
    expect(warning?.sentence).toBe('Wing 79 mm: longer than all 7 female Spizella passerina here (68–72)');
    const key = warning?.key ?? '';
    const explained = await explainWarning(contextOf(volunteer), record.id, {
      key,
      reason: 'Measured twice, by two people',
    });
    expect(explained.warnings.find((one) => one.key === key)?.explained).toBe(
      'Measured twice, by two people',
    );
    await writeEntries(contextOf(volunteer), record.id, delivery(entry('wingMm', 80)));
    const changed = await showRecord(volunteer, record.id);
    expect(changed.warnings.find(({ check }) => check === 'peers')).toMatchObject({ explained: null });
    await expect(
      explainWarning(contextOf(volunteer), record.id, { key, reason: 'no longer there' }),
    ).rejects.toMatchObject({ code: 'not-valid' });
  });

  it('holds a number against the birds of the taxon that came last, where there are very many', async () => {
    const taxonId = await makeTaxon(db(), { scientificName: 'Spizella pusilla' });
    const made = [];
    for (const wingMm of [61, 62, 63, 64, 65]) {
      const other = await makeRecord(preparator, { taxonId });
      await writeEntries(contextOf(preparator), other.id, delivery(entry('wingMm', wingMm)));
      made.push(other.id);
    }
    const [, , , , latest = ''] = made;
    const of = { collectionId, taxonId, exceptRecordId: latest };
    const groups = await findPeerValues(db(), of, ['wingMm', 'massG'], 3);
    expect(groups.map(({ field }) => field)).toEqual(['wingMm']);
    expect(groups.flatMap(({ values }) => values).sort()).toEqual([62, 63, 64]);
  });

  it('lets a named scribe write, and changes the style before the carcass is divided only', async () => {
    const record = await makeRecord(volunteer);
    const scribe = await makeActor(db(), collectionId, 'volunteer');
    await changeScribe(contextOf(volunteer), record.id, { personId: scribe.personId });
    const styled = await changeStyle(contextOf(scribe), record.id, {
      styleId: 'whole-skeleton',
      version: (await showRecord(scribe, record.id)).version,
    });
    expect(styled.style.id).toBe('whole-skeleton');
    await expect(
      changeStyle(contextOf(scribe), record.id, { styleId: 'fluid', version: record.version }),
    ).rejects.toMatchObject({ code: 'stale-version' });
    await divideCarcass(
      contextOf(scribe),
      record.id,
      divideRequest.parse({ products: [{ kind: 'skeleton' }] }),
    );
    await expect(
      changeStyle(contextOf(scribe), record.id, { styleId: 'fluid', version: styled.version }),
    ).rejects.toMatchObject({ code: 'conflict' });
  });
});

describe('dividing the carcass', () => {
  it('makes the materials, uses the carcass up, and gives the bird its sex and state', async () => {
    const record = await makeDivided(volunteer);
    const bird = await birdOf(record.birdId);
    expect(bird).toMatchObject({ state: 'prepared', sex: 'female' });
    expect(bird.materials.map(({ kind, suffix, state, custody }) => [kind, suffix, state, custody])).toEqual([
      ['skeleton', 'B', 'rough-cleaned', 'on-shelf'],
      ['carcass', 'C', null, 'used-up'],
      ['stomach', 'G', null, 'on-shelf'],
      ['skin', 'S', 'pinned', 'on-shelf'],
    ]);
    const carcass = bird.materials.find(({ kind }) => kind === 'carcass');
    expect(bird.materials.filter(({ parentId }) => parentId === carcass?.id)).toHaveLength(3);
    const events = await db().auditEvent.findMany({ where: { birdId: record.birdId } });
    expect(events.map(({ kind }) => kind)).toEqual(
      expect.arrayContaining(['bench.divided', 'queue.carcass-moved', 'storage.material-made']),
    );
  });

  it('asks for what the style gives at least, and writes nothing without it', async () => {
    const record = await makeRecord(volunteer);
    await expect(
      divideCarcass(contextOf(volunteer), record.id, divideRequest.parse({ products: [{ kind: 'skin' }] })),
    ).rejects.toMatchObject({
      code: 'not-valid',
      fields: [{ message: expect.stringContaining('1 skeleton at least') }],
    });
    expect((await birdOf(record.birdId)).materials).toHaveLength(1);
  });

  it('adds later what was forgotten, under the next suffix', async () => {
    const record = await makeDivided(volunteer);
    const more = divideRequest.parse({ products: [{ kind: 'skin', description: 'skin of the left wing' }] });
    const after = await divideCarcass(contextOf(volunteer), record.id, more);
    expect(after.products.filter(({ kind }) => kind === 'skin').map(({ label }) => label)).toEqual([
      `${record.number}-S`,
      `${record.number}-S2`,
    ]);
  });
});

describe('sending to review', () => {
  it('names what is missing, or takes the explanation', async () => {
    const record = await makeDivided(volunteer, [entry('massG', 78), entry('sex', 'female')]);
    const request = { version: record.version, explanation: null };
    await expect(sendToReview(contextOf(volunteer), record.id, request)).rejects.toMatchObject({
      code: 'not-valid',
      fields: expect.arrayContaining([{ path: 'lacks.fat', message: 'No fat' }]),
    });
    const sent = await sendToReview(contextOf(volunteer), record.id, {
      ...request,
      explanation: 'Run over: nothing inside could be told',
    });
    expect(sent).toMatchObject({
      state: 'in-review',
      lackExplanation: 'Run over: nothing inside could be told',
    });
    expect(sent.abilities).toMatchObject({ write: false, send: false, takeBack: true });
  });

  it('needs a divided carcass', async () => {
    const record = await makeRecord(volunteer);
    await expect(
      sendToReview(contextOf(volunteer), record.id, { version: record.version, explanation: 'all well' }),
    ).rejects.toMatchObject({ code: 'conflict' });
  });

  it('comes back to the preparator, with remarks that want an answer', async () => {
    const record = await makeDivided(volunteer);
    const sent = await sendToReview(contextOf(volunteer), record.id, {
      version: record.version,
      explanation: null,
    });
    const taken = await takeBack(contextOf(volunteer), record.id, { version: sent.version, reason: null });
    expect(taken.state).toBe('draft');
    const again = await sendToReview(contextOf(volunteer), record.id, {
      version: taken.version,
      explanation: null,
    });
    await withTx(contextOf(curator), (work) =>
      markReturned(work, {
        recordId: record.id,
        version: again.version,
        remarks: [{ field: 'wingMm', remark: 'Which method?' }],
      }),
    );
    const returned = await showRecord(volunteer, record.id);
    expect(returned).toMatchObject({
      state: 'returned',
      remarks: [{ remark: 'Which method?', answer: null }],
    });
    const resend = { version: returned.version, explanation: null };
    await expect(sendToReview(contextOf(volunteer), record.id, resend)).rejects.toMatchObject({
      code: 'not-valid',
    });
    await answerRemark(contextOf(volunteer), record.id, {
      remarkId: returned.remarks[0]?.id ?? '',
      text: 'Chord, added',
    });
    expect((await sendToReview(contextOf(volunteer), record.id, resend)).state).toBe('in-review');
  });

  it('is decided once: of two reviewers one gets the record', async () => {
    const record = await makeDivided(volunteer);
    const sent = await sendToReview(contextOf(volunteer), record.id, {
      version: record.version,
      explanation: null,
    });
    const decide = (move: 'approve' | 'return') =>
      withTx(contextOf(curator), async (work) => {
        const input = { recordId: record.id, version: sent.version };
        if (move === 'approve') await markApproved(work, input);
        else await markReturned(work, { ...input, remarks: [{ field: 'wingMm', remark: 'Again, please' }] });
      });
    const outcomes = await Promise.allSettled([decide('approve'), decide('return')]);
    expect(outcomes.map(({ status }) => status).sort()).toEqual(['fulfilled', 'rejected']);
  });
});

describe('lists', () => {
  it('show one’s own records first, page by page, and nothing of another collection', async () => {
    const own = await makeCollection(db());
    const [ana, ben] = [await makeActor(db(), own, 'volunteer'), await makeActor(db(), own, 'preparator')];
    for (const actor of [ana, ben, ana, ben, ben]) await makeRecord(actor);
    const seen: boolean[] = [];
    let after: string | undefined;
    do {
      const page = await listRecords(ana, benchListQuery.parse({ size: 2, after }));
      seen.push(...page.rows.map(({ mine }) => mine));
      after = page.next ?? undefined;
    } while (after !== undefined);
    expect(seen).toEqual([true, true, false, false, false]);
    expect((await listRecords(volunteer, benchListQuery.parse({ workerId: ana.personId }))).rows).toEqual([]);
  });

  it('show a volunteer the birds taken, bench staff those of all', async () => {
    const own = await makeCollection(db());
    const [ana, ben] = [await makeActor(db(), own, 'volunteer'), await makeActor(db(), own, 'preparator')];
    for (const actor of [ana, ben]) {
      await makeBird(db(), own, { birdState: 'claimed', claimedById: actor.personId ?? undefined });
    }
    expect((await showDesk(ana)).claimed).toMatchObject([{ mayStart: true, claimedBy: { name: ana.name } }]);
    expect((await showDesk(ben)).claimed).toHaveLength(2);
  });
});
