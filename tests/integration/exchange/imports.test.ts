import { Readable } from 'node:stream';
import type { JobHelpers } from 'graphile-worker';
import { beforeAll, describe, expect, it } from 'vitest';
import { exchangeTasks } from '@/lib/exchange/jobs';
import { importMapping } from '@/lib/exchange/schema';
import {
  cancelImport,
  checkImport,
  handInSheet,
  runImport,
  showImport,
  undoImport,
  writeImportErrors,
} from '@/lib/exchange/service/imports';
import type { Actor } from '@/lib/platform/actor';
import { db } from '@/lib/platform/db';
import { startTriage } from '@/lib/salvage/public';
import { contextOf, makeActor, makeCollection, makeTaxon } from '@/seed/factories';

let registrar: Actor;

beforeAll(async () => {
  registrar = await makeActor(db(), await makeCollection(db()), 'registrar');
  await makeTaxon(db(), { scientificName: 'Turdus migratorius', commonName: 'American Robin' });
  await makeTaxon(db(), { scientificName: 'Cardinalis cardinalis', commonName: 'Northern Cardinal' });
});

const sheet = (lines: readonly string[]) =>
  Readable.toWeb(Readable.from([Buffer.from(lines.join('\n'))])) as ReadableStream<Uint8Array>;

const HEAD = 'Freezer no,Species,Date found,State,County,Locality,Weight (g),Notes';
const ROWS = [
  'F-1,Turdus migratorius,2019-05-03,Ohio,Franklin,Library window,77.2,',
  'F-2,Northern Cardinal,2018-11-02,Ohio,Franklin,Porch,44,"=HYPERLINK(""http://x"")"',
  'F-3,Nosuchbird imaginaria,2018-11-02,Ohio,Franklin,Porch,,',
  'F-4,Turdus migratorius,03/04/2018,Ohio,Franklin,Porch,,',
  'F-1,Turdus migratorius,2019-05-04,Ohio,Franklin,Library window,,',
];

/** Does the waiting jobs of imports, as a worker would. */
async function work(): Promise<void> {
  const jobs = await db().$queryRaw<{ id: string; task: string; payload: unknown }[]>`
    SELECT j.id::text, t.identifier AS task, j.payload FROM graphile_worker._private_jobs j
    JOIN graphile_worker._private_tasks t ON t.id = j.task_id WHERE t.identifier LIKE 'exchange.%' ORDER BY j.id`;
  for (const { id, task, payload } of jobs) {
    await db().$executeRaw`DELETE FROM graphile_worker._private_jobs WHERE id = ${id}::bigint`;
    await exchangeTasks[task]?.(payload, {} as JobHelpers);
  }
}

async function handIn(rows: readonly string[] = ROWS) {
  const made = await handInSheet(contextOf(registrar), 'old-freezer.csv', sheet([HEAD, ...rows]));
  const fields = Object.fromEntries(
    made.suggestions.flatMap(({ index, fieldId }) => (fieldId === null ? [] : [[String(index), fieldId]])),
  );
  await checkImport(
    contextOf(registrar),
    made.id,
    importMapping.parse({ fields, defaults: { country: 'US' } }),
  );
  await work();
  return showImport(registrar, made.id);
}

const countFinds = () => db().salvageRecord.count({ where: { collectionId: registrar.collectionId } });

describe('an import', () => {
  it('is suggested, checked, run, its errors handed back, and taken back whole', async () => {
    const checked = await handIn();
    expect(checked.suggestions.map((one) => one.fieldId)).toEqual([
      'salvageNumber',
      'scientificName',
      'foundOn',
      'stateProvince',
      'county',
      'locality',
      'massG',
      'remarks',
    ]);
    expect(checked).toMatchObject({ state: 'checked', check: { rows: 5, ready: 2, withErrors: 3 } });
    expect(await countFinds()).toBe(0);

    await runImport(contextOf(registrar), checked.id);
    await work();
    const done = await showImport(registrar, checked.id);
    expect(done).toMatchObject({ state: 'done', rowsDone: 5, rowsFailed: 3 });
    const finds = await db().salvageRecord.findMany({
      where: { collectionId: registrar.collectionId },
      orderBy: { foundFrom: 'asc' },
    });
    expect(finds.map((find) => [find.verbatimTaxon, find.foundFrom.toISOString().slice(0, 10)])).toEqual([
      ['Northern Cardinal', '2018-11-02'],
      ['Turdus migratorius', '2019-05-03'],
    ]);
    expect(finds.every((find) => find.taxonId !== null && find.state !== 'accepted')).toBe(true);
    expect(finds[1]?.remarks).toContain('Salvage number: F-1');
    expect(finds[1]?.remarks).toContain('Mass: 77.2');

    const errors = await new Response((await writeImportErrors(registrar, done.id)).body as BodyInit).text();
    expect(errors.trim().split('\n')).toHaveLength(4);
    expect(errors).toContain('No taxon of the checklist has this name');

    await undoImport(contextOf(registrar), done.id, 'wrong sheet');
    await work();
    expect(await showImport(registrar, done.id)).toMatchObject({
      state: 'undone',
      undone: { takenBack: 2, kept: [] },
    });
    const after = await db().salvageRecord.findMany({ where: { collectionId: registrar.collectionId } });
    expect(after.map((find) => find.state)).toEqual(['declined', 'declined']);
    const stories = await db().auditEvent.count({
      where: { kind: 'salvage.withdrawn', subjectId: finds[0]?.id },
    });
    expect(stories).toBe(1);
  });

  it('leaves alone what somebody worked on since, and names it', async () => {
    const checked = await handIn([
      'F-10,American Robin,2017-02-01,Ohio,Franklin,Lawn,,',
      'F-11,American Robin,2017-02-01,Ohio,Franklin,Lawn,,',
    ]);
    await runImport(contextOf(registrar), checked.id);
    await work();
    const made = await db().importRow.findMany({ where: { runId: checked.id }, orderBy: { line: 'asc' } });
    const officer = await makeActor(db(), registrar.collectionId, 'permit-officer');
    const record = await db().salvageRecord.findUniqueOrThrow({ where: { id: made[0]?.subjectId ?? '' } });
    await startTriage(contextOf(officer), record.id, { version: record.version });
    await undoImport(contextOf(registrar), checked.id, 'wrong sheet');
    await work();
    expect((await showImport(registrar, checked.id)).undone).toEqual({
      takenBack: 1,
      kept: [`${record.number}: ${officer.name} worked on it since`],
    });
  });

  it('makes nothing twice when its job is tried again, nor when the sheet is handed in again', async () => {
    const rows = ['F-20,American Robin,2016-02-01,Ohio,Franklin,Lawn,,'];
    const checked = await handIn(rows);
    await runImport(contextOf(registrar), checked.id);
    const before = await countFinds();
    const payload = {
      importId: checked.id,
      personId: registrar.personId,
      collectionId: registrar.collectionId,
      reason: null,
    };
    await work();
    await db().importRun.update({ where: { id: checked.id }, data: { state: 'running' } });
    await exchangeTasks['exchange.run-import']?.(payload, {} as JobHelpers);
    expect(await countFinds()).toBe(before + 1);
    const again = await handIn(rows);
    expect(again.check).toMatchObject({ ready: 0, withErrors: 1 });
    expect(again.abilities.run).toBe(false);
  });

  it('stops when it is cancelled and keeps what it made', async () => {
    const rows = Array.from(
      { length: 120 },
      (_, index) => `C-${index},American Robin,2015-02-01,Ohio,Franklin,Lawn,,`,
    );
    const checked = await handIn(rows);
    await runImport(contextOf(registrar), checked.id);
    await cancelImport(contextOf(registrar), checked.id);
    await work();
    const stopped = await showImport(registrar, checked.id);
    expect(stopped.state).toBe('cancelled');
    expect(stopped.rowsDone).toBe(50);
    expect(stopped.abilities).toMatchObject({ undo: true, run: false });
  });

  it('refuses what is no table, a mapping without names, a second run, and those who may not', async () => {
    const { context } = { context: contextOf(registrar) };
    await expect(handInSheet(context, 'x.pdf', sheet(['%PDF-1.7 …']))).rejects.toMatchObject({
      code: 'not-valid',
    });
    const made = await handInSheet(context, 'old.csv', sheet([HEAD, ...ROWS]));
    await expect(
      checkImport(context, made.id, importMapping.parse({ fields: { 0: 'salvageNumber' } })),
    ).rejects.toMatchObject({ code: 'not-valid' });
    await expect(runImport(context, made.id)).rejects.toMatchObject({ code: 'conflict' });
    const volunteer = await makeActor(db(), registrar.collectionId, 'volunteer');
    await expect(handInSheet(contextOf(volunteer), 'old.csv', sheet([HEAD]))).rejects.toMatchObject({
      code: 'forbidden',
    });
    const stranger = await makeActor(db(), await makeCollection(db()), 'registrar');
    await expect(showImport(stranger, made.id)).rejects.toMatchObject({ code: 'not-found' });
  });
});
