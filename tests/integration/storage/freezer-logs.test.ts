import { beforeAll, describe, expect, it, vi } from 'vitest';
import type { Actor } from '@/lib/platform/actor';
import { db } from '@/lib/platform/db';
import { listLogs, loadLog } from '@/lib/storage/service/logs';
import { moveUnit } from '@/lib/storage/service/move-unit';
import { moveMaterials } from '@/lib/storage/service/moves';
import { loadLogQuery } from '@/lib/storage/wire-logs';
import { planFreezerEvacuation } from '@/lib/tissues/service/evacuation';
import { countThaws, listExposedVials } from '@/lib/tissues/service/exposed';
import { contextOf, makeActor, makeCollection } from '@/seed/factories';
import { makeFreezer, makeVials } from '@/seed/factories/storage';

let collectionId: string;
let preparator: Actor;

beforeAll(async () => {
  collectionId = await makeCollection(db());
  preparator = await makeActor(db(), collectionId, 'preparator');
});

/** A reading every ten minutes from a full hour on, as a logger without a zone writes it. */
function csvOf(day: string, temperatures: readonly (number | string)[]): ReadableStream<Uint8Array> {
  const rows = temperatures.map((temperature, index) => {
    const at = new Date(Date.UTC(2026, 0, 1, 6, index * 10)).toISOString().slice(11, 16);
    return `${day} ${at};${temperature}`;
  });
  return new Blob([`time;celsius\n${rows.join('\n')}\n`]).stream();
}

const query = (input: Record<string, unknown> = {}) =>
  loadLogQuery.parse({
    fileName: 'f.csv',
    timeColumn: 'time',
    temperatureColumn: 'celsius',
    utcOffset: '+00:00',
    ...input,
  });

const at = async <T>(instant: string, act: () => Promise<T>): Promise<T> => {
  vi.setSystemTime(new Date(instant));
  try {
    return await act();
  } finally {
    vi.useRealTimers();
  }
};

describe('a freezer log', () => {
  it('is read as it streams in; its excursion names the vials that were there, each with the thaw proposed', async () => {
    const failing = await makeFreezer(db(), collectionId, { name: 'Failing' });
    const safe = await makeFreezer(db(), collectionId, { name: 'Safe' });
    const [stayed, left, came, wet] = await at('2026-03-01T00:00:00Z', async () => {
      const { vials } = await makeVials(db(), preparator, [
        { position: { unitId: failing.box.id, position: 'A1' } },
        { position: { unitId: failing.box.id, position: 'A2' } },
        { position: { unitId: safe.box.id, position: 'A1' } },
        {
          position: { unitId: failing.box.id, position: 'A3' },
          preservation: { kind: 'ethanol', ethanolPercent: 95 },
        },
      ]);
      return vials;
    });
    await at('2026-03-04T00:00:00Z', () =>
      moveMaterials(contextOf(preparator), {
        moves: [{ materialId: left?.id, to: { unitId: safe.box.id, position: 'B1' } }],
      }),
    );
    await at('2026-03-05T07:00:00Z', () =>
      moveMaterials(contextOf(preparator), {
        moves: [{ materialId: came?.id, to: { unitId: failing.box.id, position: 'B2' } }],
      }),
    );
    // Warm from 06:20 to 07:20.
    const { rows } = await loadLog(
      contextOf(preparator),
      failing.freezer.id,
      query(),
      csvOf('2026-03-05', [-80, -79, -20, 2, 3, 1, -10, -30, -70, -80]),
    );
    expect(rows).toMatchObject([
      {
        readings: 10,
        warmestC: 3,
        thresholdC: -60,
        minutesAbove: 60,
        kineticMeanC: null,
        excursions: [{ peakC: 3, minutes: 60 }],
      },
    ]);
    const logId = rows[0]?.id ?? '';
    const exposed = await listExposedVials(preparator, logId);
    expect(exposed.rows.map((row) => [row.label, row.minutes, row.proposedThawCount])).toEqual([
      [stayed?.label, 60, 1],
      [wet?.label, 60, 0],
      [came?.label, 20, 0],
    ]);

    const counted = await countThaws(contextOf(preparator), logId, [stayed?.id ?? '']);
    expect(counted.rows[0]).toMatchObject({ thawCount: 1, isCounted: true });
    await expect(countThaws(contextOf(preparator), logId, [stayed?.id ?? ''])).rejects.toMatchObject({
      code: 'conflict',
    });
    await expect(countThaws(contextOf(preparator), logId, [wet?.id ?? ''])).rejects.toMatchObject({
      code: 'conflict',
    });
    expect(await db().vial.findUniqueOrThrow({ where: { materialId: stayed?.id } })).toMatchObject({
      thawCount: 1,
    });
    await expect(
      countThaws(contextOf(await makeActor(db(), collectionId, 'volunteer')), logId, [stayed?.id ?? '']),
    ).rejects.toMatchObject({ code: 'forbidden' });
  });

  it('knows the vials of a box that was carried in or out with all it held', async () => {
    const failing = await makeFreezer(db(), collectionId, {});
    const safe = await makeFreezer(db(), collectionId, {});
    const [vial] = await at(
      '2026-03-01T00:00:00Z',
      async () =>
        (await makeVials(db(), preparator, [{ position: { unitId: safe.box.id, position: 'A1' } }])).vials,
    );
    await at('2026-03-03T00:00:00Z', () =>
      moveUnit(contextOf(preparator), safe.box.id, { parentId: failing.rack.id, version: 1 }),
    );
    const { rows } = await loadLog(
      contextOf(preparator),
      failing.freezer.id,
      query(),
      csvOf('2026-03-05', [-80, 5, 5, 5, 5, -80]),
    );
    const exposed = await listExposedVials(preparator, rows[0]?.id ?? '');
    expect(exposed.rows.map((row) => row.label)).toEqual([vial?.label]);
  });

  it.each([
    ['rows out of order', '2026-03-05 06:10;-80\n2026-03-05 06:00;-80', {}, 'Out of order'],
    ['two kinds of stamps', '2026-03-05 06:00;-80\n2026-03-05 06:10+01:00;-80', {}, 'two kinds of stamps'],
    ['no zone', '2026-03-05 06:00;-80', { utcOffset: undefined }, 'has no zone'],
    ['no such column', '2026-03-05 06:00;-80', { temperatureColumn: 'temp' }, 'no column "temp"'],
  ])('refuses %s whole, with the line', async (_, text, input, sentence) => {
    const { freezer } = await makeFreezer(db(), collectionId, {});
    const body = new Blob([`time;celsius\n${text}\n`]).stream();
    await expect(loadLog(contextOf(preparator), freezer.id, query(input), body)).rejects.toMatchObject({
      code: 'not-valid',
      fields: [{ message: expect.stringContaining(sentence) }],
    });
    expect((await listLogs(preparator, freezer.id)).rows).toEqual([]);
  });

  it('says where the log has gaps, and takes no stretch of time twice', async () => {
    const { freezer } = await makeFreezer(db(), collectionId, {});
    const gap = new Blob(['time;celsius\n2026-03-05 06:00;-80\n2026-03-05 18:00;-79\n']).stream();
    const { rows } = await loadLog(contextOf(preparator), freezer.id, query(), gap);
    expect(rows[0]?.gaps).toMatchObject([{ minutes: 720 }]);
    await expect(
      loadLog(contextOf(preparator), freezer.id, query(), csvOf('2026-03-05', [-80])),
    ).rejects.toMatchObject({ code: 'conflict', message: expect.stringContaining('already') });
  });

  it('belongs to a freezer, and needs to know what is too warm', async () => {
    const place = await makeFreezer(db(), collectionId, {});
    const load = (id: string, input = {}) =>
      loadLog(contextOf(preparator), id, query(input), csvOf('2026-03-05', [-80]));
    await expect(load(place.box.id)).rejects.toMatchObject({ code: 'not-valid' });
    await db().storageUnit.update({ where: { id: place.freezer.id }, data: { alarmAboveC: null } });
    await expect(load(place.freezer.id)).rejects.toMatchObject({ fields: [{ path: 'thresholdC' }] });
    await expect(load(place.freezer.id, { thresholdC: '-50' })).resolves.toMatchObject({
      rows: [{ thresholdC: -50 }],
    });
  });
});

describe('an evacuation list', () => {
  it('sends the only vials first, to a cold place that is free, away from their duplicates', async () => {
    const own = await makeCollection(db());
    const actor = await makeActor(db(), own, 'curator');
    const failing = await makeFreezer(db(), own, { name: 'Failing', boxes: 2 });
    const other = await makeFreezer(db(), own, { name: 'Other', rackCapacity: 2 });
    await makeFreezer(db(), own, { name: 'Warm', targetTempC: -15 });
    await makeVials(db(), actor, [
      { position: { unitId: failing.boxes[0]?.id, position: 'A1' } },
      { position: { unitId: other.box.id, position: 'A1' } },
    ]);
    await makeVials(db(), actor, [{ position: { unitId: failing.boxes[1]?.id, position: 'A1' } }]);
    const { steps } = await planFreezerEvacuation(actor, failing.freezer.id);
    expect(steps.map((step) => [step.boxId, step.refuge?.pathName ?? null])).toEqual([
      [failing.boxes[1]?.id, expect.stringMatching(/Other|Warm/)],
      [failing.boxes[0]?.id, expect.stringMatching(/Other|Warm/)],
    ]);
    expect(steps[0]?.reasons).toContain('1 without a duplicate in another freezer');
  });
});
