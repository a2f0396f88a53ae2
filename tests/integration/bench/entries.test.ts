import { beforeAll, describe, expect, it } from 'vitest';
import { listFieldEntries, undoLast, writeEntries } from '@/lib/bench/service/entries';
import { showRecord } from '@/lib/bench/service/records';
import { writeRequest } from '@/lib/bench/wire-acts';
import type { Actor } from '@/lib/platform/actor';
import { db } from '@/lib/platform/db';
import { contextOf, makeActor, makeCollection } from '@/seed/factories';
import { delivery, entry, makeRecord } from './build';

let collectionId: string;
let volunteer: Actor;
let preparator: Actor;

beforeAll(async () => {
  collectionId = await makeCollection(db());
  volunteer = await makeActor(db(), collectionId, 'volunteer');
  preparator = await makeActor(db(), collectionId, 'preparator');
});

const write = (actor: Actor, id: string, ...entries: Parameters<typeof delivery>) =>
  writeEntries(contextOf(actor), id, delivery(...entries));

const eventsOf = (recordId: string, kind: string) =>
  db().auditEvent.findMany({ where: { subjectId: recordId, kind }, orderBy: { seq: 'asc' } });

describe('writing in a bench record', () => {
  it('keeps a superseded value with who and when, and shows the new one', async () => {
    const record = await makeRecord(volunteer);
    await write(volunteer, record.id, entry('tailMm', 71.5, { verbatim: 'tail 71.5' }));
    const { record: after } = await write(
      preparator,
      record.id,
      entry('tailMm', 72.5, { verbatim: 'no, tail 72.5', correction: true }),
    );
    expect(after.values.tailMm).toMatchObject({
      value: 72.5,
      unit: 'mm',
      verbatim: 'no, tail 72.5',
      by: { id: preparator.personId, name: preparator.name },
    });
    expect(after.earlier).toEqual({ tailMm: 1 });
    const { entries } = await listFieldEntries(preparator, record.id, 'tailMm');
    expect(entries.map(({ value, by, current }) => [value, by.name, current])).toEqual([
      [72.5, preparator.name, true],
      [71.5, volunteer.name, false],
    ]);
    const [, second] = await eventsOf(record.id, 'bench.values-written');
    expect(second?.payload).toMatchObject({ changes: { Tail: { from: '71.5 mm', to: '72.5 mm' } } });
    expect(second?.birdId).toBe(record.birdId);
  });

  it('answers with what the delivery may have changed of the record, as its page shows it', async () => {
    const record = await makeRecord(volunteer);
    await write(preparator, record.id, entry('wingMm', 93), entry('tailMm', 71), entry('fat', null));
    await write(preparator, record.id, entry('tailMm', 72));
    const again = entry('massG', 61.2);
    for (const entries of [
      [entry('sex', 'female'), again],
      [again, entry('wingMm', 94), entry('wingMm', 95), entry('fat', null), entry('massG', null)],
    ]) {
      const { record: after } = await write(volunteer, record.id, ...entries);
      const { values, earlier, lacks } = await showRecord(volunteer, record.id);
      expect({ ...after, earlier: { tailMm: 1, ...after.earlier } }).toEqual({ values, earlier, lacks });
    }
    expect((await showRecord(volunteer, record.id)).earlier).toEqual({ tailMm: 1, wingMm: 2, massG: 1 });
  });

  it('carries a repeated delivery out once', async () => {
    const record = await makeRecord(volunteer);
    const first = entry('wingMm', 94);
    await write(volunteer, record.id, first);
    const again = await write(volunteer, record.id, first, entry('massG', 61.2));
    expect(again.outcomes.map(({ field, outcome }) => [field, outcome])).toEqual([
      ['massG', 'written'],
      ['wingMm', 'repeated'],
    ]);
    expect(await db().benchEntry.count({ where: { recordId: record.id } })).toBe(2);
  });

  it('answers a delivery that changes nothing, without a trace', async () => {
    const record = await makeRecord(volunteer);
    await write(volunteer, record.id, entry('wingMm', 94));
    const { outcomes } = await write(volunteer, record.id, entry('wingMm', 94));
    expect(outcomes.map(({ outcome }) => outcome)).toEqual(['unchanged']);
    expect(await eventsOf(record.id, 'bench.values-written')).toHaveLength(1);
  });

  it('keeps both of two people who write different fields at the same time', async () => {
    const record = await makeRecord(volunteer);
    const fields = ['wingMm', 'tailMm', 'tarsusMm', 'culmenExposedMm', 'billDepthMm', 'billWidthMm'] as const;
    await Promise.all(
      fields.map((field, at) =>
        write(at % 2 === 0 ? volunteer : preparator, record.id, entry(field, 10 + at / 2)),
      ),
    );
    const { values } = await showRecord(volunteer, record.id);
    expect(fields.map((field) => values[field]?.value)).toEqual([10, 10.5, 11, 11.5, 12, 12.5]);
    expect(await eventsOf(record.id, 'bench.values-written')).toHaveLength(6);
  });

  it('lets one of many simultaneous values of one field hold and keeps all of them', async () => {
    const record = await makeRecord(volunteer);
    await Promise.all(
      [90, 91, 92, 93, 94].map((value) => write(volunteer, record.id, entry('wingMm', value))),
    );
    const { entries } = await listFieldEntries(volunteer, record.id, 'wingMm');
    expect(entries.map(({ value }) => value).sort()).toEqual([90, 91, 92, 93, 94]);
    expect(entries.filter(({ current }) => current)).toHaveLength(1);
    const { values } = await showRecord(volunteer, record.id);
    expect(values.wingMm?.value).toBe(entries.find(({ current }) => current)?.value);
  });

  it('does not let a delivery that waited overwrite what somebody wrote after it, and keeps it as earlier', async () => {
    const record = await makeRecord(volunteer);
    await write(preparator, record.id, entry('tailMm', 71));
    // Written an hour ago by a clock that is a day slow, sent now.
    const slow = Date.now() - 24 * 3_600_000;
    const late = writeRequest.parse({
      sentAt: new Date(slow).toISOString(),
      entries: [entry('tailMm', 70, { enteredAt: new Date(slow - 3_600_000).toISOString() })],
    });
    const { outcomes, record: after } = await writeEntries(contextOf(volunteer), record.id, late);
    expect(outcomes.map(({ outcome }) => outcome)).toEqual(['outranked']);
    expect(after.values.tailMm?.value).toBe(71);
    const { entries } = await listFieldEntries(volunteer, record.id, 'tailMm');
    expect(entries.map(({ value, current, outranked }) => [value, current, outranked])).toEqual([
      [70, false, true],
      [71, true, false],
    ]);
    expect(await eventsOf(record.id, 'bench.values-kept-as-earlier')).toHaveLength(1);
  });

  it('refuses values that are none, names each, and writes nothing', async () => {
    const record = await makeRecord(volunteer);
    await expect(
      write(
        volunteer,
        record.id,
        entry('massG', 78),
        entry('wingMm', 5000),
        entry('tarsusMm', 20, { method: 'chord' }),
      ),
    ).rejects.toMatchObject({
      code: 'not-valid',
      fields: [{ path: 'entries.1' }, { path: 'entries.2' }],
    });
    expect((await showRecord(volunteer, record.id)).values).toEqual({});
  });

  it('takes a value away and back again', async () => {
    const record = await makeRecord(volunteer);
    await write(volunteer, record.id, entry('sex', 'female'), entry('massG', 78));
    const { record: without } = await write(volunteer, record.id, entry('sex', null));
    expect(without.values.sex).toBeUndefined();
    expect((await db().bird.findUniqueOrThrow({ where: { id: record.birdId } })).sex).toBe('undetermined');
    const back = await undoLast(contextOf(volunteer), record.id);
    expect(back.values.sex?.value).toBe('female');
    expect((await db().bird.findUniqueOrThrow({ where: { id: record.birdId } })).sex).toBe('female');
  });

  it('undoes step by step, and only what is the person’s own', async () => {
    const record = await makeRecord(volunteer);
    await write(volunteer, record.id, entry('wingMm', 94));
    await write(volunteer, record.id, entry('wingMm', 95));
    await write(preparator, record.id, entry('tailMm', 71));
    const context = contextOf(volunteer);
    expect((await undoLast(context, record.id)).values.wingMm?.value).toBe(94);
    expect((await undoLast(context, record.id)).values.wingMm).toBeUndefined();
    await expect(undoLast(context, record.id)).rejects.toMatchObject({ code: 'conflict' });
    const { values } = await showRecord(volunteer, record.id);
    expect(Object.keys(values)).toEqual(['tailMm']);
    expect(await db().benchEntry.count({ where: { recordId: record.id } })).toBe(5);
  });
});

describe('who may write', () => {
  it('is the pair at the bench and bench staff, not another volunteer', async () => {
    const record = await makeRecord(volunteer);
    const other = await makeActor(db(), collectionId, 'volunteer');
    await expect(write(other, record.id, entry('massG', 78))).rejects.toMatchObject({ code: 'forbidden' });
    await db().benchRecord.update({ where: { id: record.id }, data: { scribeId: other.personId } });
    await write(other, record.id, entry('massG', 78));
    await write(preparator, record.id, entry('wingMm', 94));
    const registrar = await makeActor(db(), collectionId, 'registrar');
    await expect(write(registrar, record.id, entry('massG', 78))).rejects.toMatchObject({
      code: 'forbidden',
    });
  });

  it('is nobody of another collection', async () => {
    const record = await makeRecord(volunteer);
    const stranger = await makeActor(db(), await makeCollection(db()), 'preparator');
    await expect(write(stranger, record.id, entry('massG', 78))).rejects.toMatchObject({ code: 'not-found' });
    await expect(showRecord(stranger, record.id)).rejects.toMatchObject({ code: 'not-found' });
    await expect(listFieldEntries(stranger, record.id, 'massG')).rejects.toMatchObject({ code: 'not-found' });
  });

  it('is nobody once the record is under review or approved, in the database itself', async () => {
    const record = await makeRecord(volunteer);
    await write(volunteer, record.id, entry('massG', 78));
    await db().benchRecord.update({ where: { id: record.id }, data: { state: 'in-review' } });
    await expect(write(volunteer, record.id, entry('wingMm', 94))).rejects.toMatchObject({
      code: 'conflict',
    });
    await db().benchRecord.update({ where: { id: record.id }, data: { state: 'approved' } });
    await expect(write(preparator, record.id, entry('wingMm', 94))).rejects.toMatchObject({
      code: 'conflict',
      message: expect.stringContaining('amendments'),
    });
    await expect(
      db().benchEntry.create({
        data: { recordId: record.id, field: 'wingMm', value: 94, enteredById: volunteer.personId ?? '' },
      }),
    ).rejects.toThrow(/approved and locked/);
  });
});
