import { beforeAll, describe, expect, it } from 'vitest';
import { writeEntries } from '@/lib/bench/service/entries';
import {
  changeLab,
  loadReferenceTable,
  removeReferenceTable,
  saveStyle,
  showLab,
} from '@/lib/bench/service/lab';
import { showRecord } from '@/lib/bench/service/records';
import { PREPARATION_STYLE_DATA } from '@/lib/bench/style-data';
import { labRequest } from '@/lib/bench/wire-lab';
import type { Actor } from '@/lib/platform/actor';
import { db } from '@/lib/platform/db';
import { contextOf, makeActor, makeCollection, makeTaxon } from '@/seed/factories';
import { delivery, entry, makeRecord } from './build';

let preparator: Actor;
let volunteer: Actor;

beforeAll(async () => {
  const collectionId = await makeCollection(db());
  preparator = await makeActor(db(), collectionId, 'preparator');
  volunteer = await makeActor(db(), collectionId, 'volunteer');
});

describe('how the lab works', () => {
  it('saves a style as its next version; records begun before keep theirs', async () => {
    const before = await makeRecord(preparator, { styleId: 'whole-skeleton' });
    const shipped = PREPARATION_STYLE_DATA['whole-skeleton'];
    const style = {
      ...shipped,
      steps: [
        ...shipped.steps,
        { id: 'photograph', label: 'Photograph the box', detail: '', cautions: [], fields: [] },
      ],
    };
    await saveStyle(contextOf(preparator), { style });
    await expect(saveStyle(contextOf(preparator), { style })).rejects.toMatchObject({
      code: 'stale-version',
    });
    const after = await makeRecord(preparator, { styleId: 'whole-skeleton' });
    expect(after.style.version).toBe(2);
    expect(after.style.steps.at(-1)?.id).toBe('photograph');
    expect((await showRecord(preparator, before.id)).style).toEqual(shipped);
    await expect(saveStyle(contextOf(volunteer), { style })).rejects.toMatchObject({ code: 'forbidden' });
  });

  it('keeps its scales and clocks beside the settings of other stages', async () => {
    const { collectionId } = preparator;
    await db().collection.update({
      where: { id: collectionId },
      data: { settings: { queue: { wantedPerTaxon: 7 } } },
    });
    await changeLab(
      contextOf(preparator),
      labRequest.parse({
        scales: { fat: 'kaiser-1993' },
        clocks: { tissueWithinMinutes: 30, timeOutAfterHours: 12 },
      }),
    );
    const { settings } = await db().collection.findUniqueOrThrow({ where: { id: collectionId } });
    expect(settings).toMatchObject({
      queue: { wantedPerTaxon: 7 },
      bench: { scales: { fat: 'kaiser-1993' } },
    });
    expect(labRequest.safeParse({ scales: { fat: 'of-ours' }, clocks: {} }).success).toBe(false);
    const record = await makeRecord(preparator);
    expect(record).toMatchObject({
      scales: { fat: 'kaiser-1993' },
      clockSettings: { timeOutAfterHours: 12 },
    });
  });

  it('loads a reference table, compares with it, and refuses a bad one with its lines', async () => {
    const taxonId = await makeTaxon(db(), { scientificName: 'Junco hyemalis' });
    const table = {
      title: 'Means',
      source: 'invented for this test',
      csv: 'scientificName,massG,wingMm,tailMm,tarsusMm\nJunco hyemalis,19.6,75,66,20.5\n',
    };
    const lab = await loadReferenceTable(contextOf(preparator), table);
    expect(lab.references).toMatchObject([{ title: 'Means', taxa: 1 }]);
    const record = await makeRecord(preparator, { taxonId });
    const entries = [entry('massG', 19), entry('wingMm', 120), entry('tailMm', 66), entry('tarsusMm', 20)];
    await writeEntries(contextOf(preparator), record.id, delivery(...entries));
    const { warnings } = await showRecord(preparator, record.id);
    expect(warnings.map(({ check, field }) => [check, field])).toContainEqual(['proportions', 'wingMm']);
    await expect(
      loadReferenceTable(contextOf(preparator), {
        ...table,
        csv: 'scientificName,wingMm\nJunco hyemalis,long\n',
      }),
    ).rejects.toMatchObject({
      code: 'not-valid',
      fields: [{ message: 'Line 2, wingMm: "long" is no measure of a bird.' }],
    });
    const id = lab.references[0]?.id ?? '';
    expect((await removeReferenceTable(contextOf(preparator), id)).references).toEqual([]);
    expect((await showLab(volunteer)).mayChange).toBe(false);
  });
});
