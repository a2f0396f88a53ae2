import { parse } from 'csv-parse/sync';
import { readSheet } from 'read-excel-file/node';
import { afterAll, beforeAll, describe, expect, it, vi } from 'vitest';
import { legalCaution } from '@/lib/permits/caution';
import { db } from '@/lib/platform/db';
import type { FileAnswer } from '@/lib/platform/http';
import { LINE_COLUMNS } from '@/lib/reports/files/columns';
import { figures } from '@/lib/reports/rules/figures';
import { NIL_STATEMENT } from '@/lib/reports/rules/words';
import type { ReportRow } from '@/lib/reports/schema';
import {
  amendReport,
  explainWarnings,
  markReportReady,
  openReport,
  signReport,
} from '@/lib/reports/service/commands';
import { showReportDesk } from '@/lib/reports/service/desk';
import { writeReportCsv, writeReportPdf, writeReportWorkbook } from '@/lib/reports/service/files';
import { checkReport, listLines, showReport } from '@/lib/reports/service/record';
import type { ReportRecord } from '@/lib/reports/wire';
import { contextOf, makeActor, makeCollection, makePermit } from '@/seed/factories';
import { readPages } from './pdf-pages';
import { addBird, addBirdsOf2024, addBirdsOf2025, type Museum, makeMuseum } from './two-years';

let museum: Museum;
const reports = new Map<string, string>();
const idOf = (name: string) => reports.get(name) ?? '';

const officer = () => contextOf(museum.officer);
const linesOf = async (id: string, more = {}) => listLines(museum.officer, id, { size: 200, ...more });

async function explainAll(record: ReportRecord): Promise<ReportRecord> {
  let current = record;
  for (const { id } of record.report.warnings) {
    if (current.explanations[id] !== undefined) continue;
    current = await explainWarnings(officer(), record.id, {
      version: current.version,
      warningIds: [id],
      text: `Looked up in the notebook (${id.split(':')[0]})`,
    });
  }
  return current;
}

const bytes = (file: FileAnswer): Uint8Array => file.body as Uint8Array;

beforeAll(async () => {
  vi.useFakeTimers({ toFake: ['Date'] });
  vi.setSystemTime('2025-01-20T12:00:00Z');
  museum = await makeMuseum();
  await addBirdsOf2024(museum);
});
afterAll(() => void vi.useRealTimers());

describe('the report of the first year', () => {
  it('is due on the day the permit says, and opens once', async () => {
    const desk = await showReportDesk(museum.officer);
    expect(desk.due.map(({ fromOn, dueOn, standing }) => [fromOn, dueOn, standing])).toEqual([
      ['2024-01-01', '2025-01-31', 'due'],
      ['2025-01-01', '2026-01-31', 'under-way'],
    ]);
    const request = { permitId: museum.permitId, onDay: '2024-06-01' };
    const made = await openReport(officer(), request);
    reports.set('2024', made.id);
    expect(made).toMatchObject({ fromOn: '2024-01-01', untilOn: '2024-12-31', edition: 1, state: 'open' });
    await expect(openReport(officer(), request)).rejects.toMatchObject({ code: 'conflict' });
    await expect(openReport(officer(), { ...request, onDay: '2027-06-01' })).rejects.toMatchObject({
      code: 'not-valid',
    });
  });

  it('counts as counted by hand: A and D held, B transferred, C destroyed, E in the next year', async () => {
    const { report } = await showReport(museum.officer, idOf('2024'));
    expect(report.total).toMatchObject({ opening: 0, salvaged: 4, transferred: 1, destroyed: 1, onHand: 2 });
    expect(report.closing).toEqual([
      { taxon: 'gull sp.', specimenType: 'whole-bird', quantity: 1 },
      { taxon: 'Turdus migratorius', specimenType: 'whole-bird', quantity: 1 },
    ]);
    expect(report.checks.filter(({ holds }) => holds === false)).toEqual([]);
    const { rows } = await linesOf(idOf('2024'));
    expect(rows.map(({ number, outcome, outcomeDetail }) => [number, outcome, outcomeDetail])).toEqual([
      ['RB-A', 'on-hand', 'in freezer'],
      ['RB-B', 'transferred', 'to Teaching collection (T-9)'],
      ['RB-C', 'destroyed', 'incinerated, witness not recorded'],
      ['RB-D', 'on-hand', 'in freezer'],
    ]);
  });

  it('is neither ready nor signed while a warning is unexplained; a stale explanation writes nothing', async () => {
    const before = await showReport(museum.officer, idOf('2024'));
    expect(before.report.warnings.map(({ code }) => code)).toEqual(['destruction-unwitnessed']);
    expect(before.abilities).toEqual({ explain: true, ready: false, sign: false, amend: false });
    await expect(markReportReady(officer(), before.id, { version: before.version })).rejects.toMatchObject({
      code: 'not-valid',
      fields: [{ message: expect.stringContaining('RB-C was destroyed without method or witness') }],
    });
    await expect(signReport(officer(), before.id, { version: before.version })).rejects.toMatchObject({
      code: 'conflict',
    });
    const explained = await explainAll(before);
    expect(explained).toMatchObject({ unexplained: 0, abilities: { ready: true } });
    const late = {
      version: before.version,
      warningIds: [before.report.warnings[0]?.id ?? ''],
      text: 'again',
    };
    await expect(explainWarnings(officer(), before.id, late)).rejects.toMatchObject({
      code: 'stale-version',
    });
    const ready = await markReportReady(officer(), before.id, { version: explained.version });
    expect(ready).toMatchObject({ state: 'ready', abilities: { sign: true } });
  });

  it('is refused again when a new warning came after it was ready, then signed and frozen', async () => {
    const late = await addBird(museum, { letter: 'X', foundFrom: '2024-10-10', more: { county: '' } });
    const ready = await showReport(museum.officer, idOf('2024'));
    await expect(signReport(officer(), ready.id, { version: ready.version })).rejects.toMatchObject({
      code: 'not-valid',
      fields: [{ message: 'RB-X has no county' }],
    });
    await db().material.deleteMany({ where: { birdId: late } });
    await db().bird.delete({ where: { id: late } });
    await db().salvageRecord.delete({ where: { id: museum.ids.get('X') } });
    const signed = await signReport(officer(), ready.id, { version: ready.version });
    expect(signed).toMatchObject({ state: 'signed', signedBy: museum.officer.name });
    expect(signed.digest).toMatch(/^[0-9a-f]{64}$/);
    expect(signed.auditHead?.digest).toMatch(/^[0-9a-f]{64}$/);
    await expect(
      db().permitReport.update({ where: { id: signed.id }, data: { digest: 'f'.repeat(64) } }),
    ).rejects.toThrow(/signed report is frozen/);
    await expect(
      explainWarnings(officer(), signed.id, { version: signed.version, warningIds: ['any'], text: 'more' }),
    ).rejects.toMatchObject({ code: 'conflict' });
    expect(await checkReport(museum.officer, signed.id)).toMatchObject({
      stillTrue: true,
      digestHolds: true,
    });
    const told = await db().auditEvent.findMany({ where: { subjectId: signed.id }, orderBy: { seq: 'asc' } });
    expect(told.map(({ kind }) => kind)).toEqual([
      'reports.opened',
      'reports.explained',
      'reports.made-ready',
      'reports.signed',
    ]);
  });
});

/** Counted by hand from two-years.ts. */
const ROWS_OF_2025: Partial<ReportRow>[] = [
  { taxon: 'gull sp.', specimenType: 'whole-bird', opening: 1, salvaged: 0, onHand: 1 },
  { taxon: 'Turdus merula', specimenType: 'whole-bird', reclassifiedIn: 1, onHand: 1 },
  { taxon: 'Turdus migratorius', specimenType: 'egg', salvaged: 3, released: 3, onHand: 0 },
  {
    taxon: 'Turdus migratorius',
    specimenType: 'whole-bird',
    opening: 1,
    late: 1,
    salvaged: 4,
    received: 1,
    reclassifiedOut: 1,
    transferred: 1,
    destroyed: 0,
    onHand: 5,
  },
];

describe('the report of the second year', () => {
  beforeAll(async () => {
    vi.setSystemTime('2026-01-20T12:00:00Z');
    await addBirdsOf2025(museum);
    reports.set('2025', (await openReport(officer(), { permitId: museum.permitId, onDay: '2025-12-31' })).id);
  });

  it('carries over what the first closed with, and shows the bird logged late as such', async () => {
    const { report } = await showReport(museum.officer, idOf('2025'));
    expect(report.rows).toMatchObject(ROWS_OF_2025);
    expect(report.total).toMatchObject({ opening: 2, late: 1, salvaged: 7, received: 1, transferred: 1 });
    expect(report.total).toMatchObject({ released: 3, onHand: 7 });
    expect(report.checks.find(({ rule }) => rule === 2)?.holds).toBe(true);
    expect(report.previousVersionId).toBe(idOf('2024'));
    expect(report.warnings.map(({ code, message }) => [code, message.slice(0, 4)]).sort()).toEqual([
      ['county-missing', 'RB-J'],
      ['date-straddles-period', 'RB-E'],
      ['late-entry', 'RB-F'],
      ['recipient-authority-missing', 'RB-A'],
    ]);
  });

  it('has each bird on exactly one line', async () => {
    const { rows, total } = await linesOf(idOf('2025'));
    expect(total).toBe(9);
    expect(rows.map(({ number }) => number.slice(3)).join('')).toBe('ADEFGHIJK');
    expect(rows.find(({ number }) => number === 'RB-F')?.origin).toBe('late-entry');
    expect(rows.find(({ number }) => number === 'RB-G')?.outcomeDetail).toBe(
      'prepared: skeleton, skin; catalogued as TM 100',
    );
  });

  it('opens from every number to the birds it counts', async () => {
    const { report } = await showReport(museum.officer, idOf('2025'));
    for (const row of report.rows) {
      for (const figure of figures) {
        if (figure === 'acquired' || figure === 'disposed') continue;
        const { taxon, specimenType } = row;
        const page = await linesOf(idOf('2025'), { figure, taxon, specimenType });
        expect([taxon, specimenType, figure, page.counted]).toEqual([
          taxon,
          specimenType,
          figure,
          row[figure],
        ]);
        if (row[figure] !== 0) expect(page.total).toBeGreaterThan(0);
      }
    }
    for (const [name, groups] of [
      ['county', report.byCounty],
      ['month', report.byMonth],
    ] as const) {
      for (const { key, acquired, disposed } of groups) {
        const counted = async (figure: 'acquired' | 'disposed') =>
          (await linesOf(idOf('2025'), { figure, [name]: key })).counted;
        expect([key, await counted('acquired'), await counted('disposed')]).toEqual([
          key,
          acquired,
          disposed,
        ]);
      }
    }
    const first = await listLines(museum.officer, idOf('2025'), { size: 4 });
    const second = await listLines(museum.officer, idOf('2025'), { size: 4, after: first.next ?? '' });
    expect(second.rows.map(({ number }) => number)).toEqual(
      (await linesOf(idOf('2025'))).rows.slice(4, 8).map(({ number }) => number),
    );
  });

  it('names finders to those who may see them, on screen and on paper', async () => {
    const salvagerOf = async (actor: Museum['officer']) =>
      (await listLines(actor, idOf('2025'), { size: 200 })).rows.find(({ number }) => number === 'RB-A')
        ?.salvager;
    expect(await salvagerOf(museum.officer)).toBe('Wanda Łęcka');
    expect(await salvagerOf(museum.volunteer)).toBe('finder, on file');
    const text = async (actor: Museum['officer']) =>
      (await readPages(bytes(await writeReportPdf(actor, idOf('2025'))))).join('\n');
    expect(await text(museum.officer)).toContain('Wanda Łęcka');
    expect(await text(museum.volunteer)).not.toContain('Łęcka');
  });

  it('is signed, and a bird logged afterwards is told by the check, not written into it', async () => {
    const explained = await explainAll(await showReport(museum.officer, idOf('2025')));
    const ready = await markReportReady(officer(), explained.id, { version: explained.version });
    const signed = await signReport(officer(), ready.id, { version: ready.version });
    await db().finder.update({ where: { id: museum.finderId }, data: { name: null, erasedAt: new Date() } });
    expect(await checkReport(museum.officer, signed.id)).toMatchObject({
      stillTrue: true,
      digestHolds: true,
    });
    vi.setSystemTime('2026-03-01T12:00:00Z');
    await addBird(museum, { letter: 'L', foundFrom: '2025-09-09', loggedAt: '2026-02-15T08:00:00Z' });
    expect(await checkReport(museum.officer, signed.id)).toMatchObject({
      stillTrue: false,
      digestHolds: true,
      difference: { added: [{ number: 'RB-L' }], removed: [], changed: [] },
    });
    expect((await showReport(museum.officer, signed.id)).lineCount).toBe(signed.lineCount);
  });

  it('gives an amended edition with its difference, while the first stays frozen', async () => {
    const first = await showReport(museum.officer, idOf('2025'));
    const made = await amendReport(officer(), first.id, {
      version: first.version,
      reason: 'RB-L came to light',
    });
    reports.set('2025-2', made.id);
    expect(made).toMatchObject({
      edition: 2,
      state: 'open',
      amendReason: 'RB-L came to light',
      unexplained: 0,
    });
    expect(made.difference).toMatchObject({ added: [{ number: 'RB-L' }], removed: [], changed: [] });
    expect(made.difference?.rows).toEqual([
      {
        taxon: 'Turdus migratorius',
        specimenType: 'whole-bird',
        changes: [
          { field: 'salvaged', from: 4, to: 5 },
          { field: 'onHand', from: 5, to: 6 },
        ],
      },
    ]);
    const ready = await markReportReady(officer(), made.id, { version: made.version });
    const signed = await signReport(officer(), made.id, { version: ready.version });
    const old = await showReport(museum.officer, first.id);
    expect(old).toMatchObject({ state: 'amended', digest: first.digest, lineCount: first.lineCount });
    expect(signed.editions.map(({ edition, state }) => [edition, state])).toEqual([
      [1, 'amended'],
      [2, 'signed'],
    ]);
    await expect(
      amendReport(officer(), first.id, { version: old.version, reason: 'again' }),
    ).rejects.toMatchObject({ code: 'conflict' });
  });

  it('is not signed while its year runs', async () => {
    const running = await openReport(officer(), { permitId: museum.permitId, onDay: '2026-02-01' });
    const explained = await explainAll(running);
    const ready = await markReportReady(officer(), running.id, { version: explained.version });
    expect(ready.abilities.sign).toBe(false);
    await expect(signReport(officer(), running.id, { version: ready.version })).rejects.toMatchObject({
      code: 'not-valid',
      message: expect.stringContaining('still runs until 2026-12-31'),
    });
  });
});

describe('its files', () => {
  it('the PDF has each bird once, the digest on each page, the balance, the signer and the caution', async () => {
    const record = await showReport(museum.officer, idOf('2025-2'));
    const pages = await readPages(bytes(await writeReportPdf(museum.officer, record.id)));
    const text = pages.join('\n').replace(/\s+/g, ' ');
    const { rows } = await linesOf(record.id);
    for (const { number } of rows.slice(0, 10)) {
      const expected = number === 'RB-L' ? 2 : 1;
      expect([number, text.split(number).length - 1]).toEqual([number, expected]);
    }
    for (const page of pages) expect(page).toContain(record.digest);
    for (const { number } of rows) expect(text).toContain(number);
    expect(text).toContain(`Signed by ${museum.officer.name}`);
    expect(text).toContain(record.certification);
    expect(text).toContain(legalCaution);
    // By hand: the first edition's balance and RB-L.
    expect(text).toContain(
      '2 carried over + 1 entered late + 8 salvaged + 1 received − 1 transferred − 0 destroyed − 3 released = 8 on hand',
    );
  });

  it('a year without any bird says so in words', async () => {
    const permitId = await makePermit(db(), museum.collectionId, { effectiveOn: '2025-01-01' });
    const empty = await openReport(officer(), { permitId, onDay: '2025-05-05' });
    expect(empty.report.nil).toBe(true);
    const [page = ''] = await readPages(bytes(await writeReportPdf(museum.officer, empty.id)));
    expect(page.replace(/\s+/g, ' ')).toContain(NIL_STATEMENT);
    expect(page).toContain('DRAFT, not signed');
  });

  it('the CSV reads back to the same lines; nothing in it runs as a formula', async () => {
    const file = await writeReportCsv(museum.volunteer, idOf('2025-2'));
    const { rows } = await listLines(museum.volunteer, idOf('2025-2'), { size: 200 });
    const read = parse(String(file.body), { bom: true, columns: true }) as Record<string, string>[];
    const written = rows.map((line) =>
      Object.fromEntries(LINE_COLUMNS.map(({ name, value }) => [name, String(value(line) ?? '')])),
    );
    expect(read.map(({ number }) => number)).toEqual(written.map(({ number }) => number));
    for (const [index, row] of read.entries()) {
      const back = Object.entries(row).map(([name, value]) => [name, value.replace(/^'(?=[=+\-@])/, '')]);
      expect(Object.fromEntries(back)).toEqual(written[index]);
      for (const value of Object.values(row)) expect(value).not.toMatch(/^[=+@]/);
    }
  });

  it('the workbook has the same birds and the same total', async () => {
    const file = bytes(await writeReportWorkbook(museum.officer, idOf('2025-2')));
    const [heads, ...birds] = await readSheet(Buffer.from(file), 'Birds');
    expect(heads?.[0]).toBe('Number');
    const onHand = heads?.indexOf('On hand') ?? -1;
    expect(birds.map((bird) => bird[0])).toEqual(
      (await linesOf(idOf('2025-2'))).rows.map(({ number }) => number),
    );
    expect(birds.reduce((sum, bird) => sum + Number(bird[onHand]), 0)).toBe(8);
  });
});

describe('who may', () => {
  it('volunteers read, and neither open, explain, make ready, sign nor amend', async () => {
    const context = contextOf(museum.volunteer);
    const id = idOf('2025-2');
    const { version, abilities } = await showReport(museum.volunteer, id);
    expect(abilities).toEqual({ explain: false, ready: false, sign: false, amend: false });
    for (const refused of [
      openReport(context, { permitId: museum.permitId, onDay: '2024-01-01' }),
      explainWarnings(context, id, { version, warningIds: ['any'], text: 'because' }),
      markReportReady(context, id, { version }),
      signReport(context, id, { version }),
      amendReport(context, id, { version, reason: 'because' }),
    ]) {
      await expect(refused).rejects.toMatchObject({ code: 'forbidden' });
    }
  });

  it('another collection sees nothing of it', async () => {
    const stranger = await makeActor(db(), await makeCollection(db()), 'permit-officer');
    await expect(showReport(stranger, idOf('2025'))).rejects.toMatchObject({ code: 'not-found' });
    await expect(writeReportPdf(stranger, idOf('2025'))).rejects.toMatchObject({ code: 'not-found' });
    expect((await showReportDesk(stranger)).rows).toEqual([]);
  });
});
