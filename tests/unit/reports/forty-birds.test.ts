import { describe, expect, it } from 'vitest';
import { diffReports } from '@/lib/reports/rules/differences';
import { computeReport } from '@/lib/reports/rules/ledger';
import { checkReadyToSign } from '@/lib/reports/rules/warnings';
import type { LedgerBird, ReportRow, SalvageReport, StockEvent } from '@/lib/reports/schema';
import { makeBird, makeEvent, makeInput } from './build';

/*
 * Forty records over three years, worked out by hand; invented. R robin, T thrush, G gull.
 * Odd numbers come from Cook County, even ones from Lake County.
 *
 * 2023 (heard until 20 Jan. 2024)
 *   salvaged R 01-06, T 07-10, G 11-12; received R 13, G 14
 *   transferred 01, 11; destroyed 07; 06 identified anew R → T
 *   R  0 + 6 + 1 − 1 out − 1 transferred              = 5   (02 03 04 05 13)
 *   T  0 + 4     + 1 in            − 1 destroyed      = 4   (06 08 09 10)
 *   G  0 + 2 + 1         − 1 transferred              = 2   (12 14)
 *   all 0 + 12 + 2 − 2 − 1                            = 11
 *
 * 2024 (heard until 20 Jan. 2025)
 *   late: R 31, found 15 Sept. 2023, entered 5 March 2024
 *   salvaged R 15-19, T 20-24, G 25-26, a clutch 29 of 4 gull eggs, a lone robin wing 30; received T 27
 *   corrected +1 R 28 (found at inventory), −1 R 16 (entered twice under another number)
 *   transferred 02, 08; destroyed 15 and 1 of the 4 eggs; released 20; 17 identified anew R → T
 *   no stock: wing 32 of the held 03; 04 lent and returned; 09 prepared and catalogued
 *   R    5 + 1 late + 5 + 0 corrected − 1 out − 1 transferred − 1 destroyed = 8 (03 04 05 13 18 19 28 31)
 *   T    4 + 5 + 1 + 1 in − 1 transferred − 1 released                      = 9 (06 09 10 17 21 22 23 24 27)
 *   G    2 + 2                                                              = 4 (12 14 25 26)
 *   eggs 0 + 4 − 1 destroyed                                                = 3
 *   wing 0 + 1                                                              = 1
 *   all  11 + 1 + 17 + 1 + 0 − 2 − 2 − 1                                    = 25
 *
 * 2025 (heard until 20 Jan. 2026)
 *   late: 05 transferred on 20 Dec. 2024, entered 10 Feb. 2025; 10 identified anew T → R on 11 Nov. 2024,
 *         entered 1 March 2025
 *   salvaged R 33-35, T 36 and 40, G 37-38; received R 39
 *   transferred 18, 26 and the 3 eggs; destroyed 13, 21, wing 30; released 36; 03 catalogued
 *   R    8 + (1 − 1) late + 3 + 1 − 1 transferred − 1 destroyed = 10 (03 04 10 19 28 31 33 34 35 39)
 *   T    9 − 1 late + 2 − 1 destroyed − 1 released              = 8  (06 09 17 22 23 24 27 40)
 *   G    4 + 2 − 1 transferred                                  = 5  (12 14 25 37 38)
 *   eggs 3 − 3                                                  = 0
 *   wing 1 − 1                                                  = 0
 *   all  25 − 1 + 7 + 1 − 5 − 3 − 1                             = 23
 */

const R = 'Turdus migratorius';
const T = 'Catharus ustulatus';
const G = 'Larus argentatus';

const id = (number: number) => `b${String(number).padStart(2, '0')}`;
const range = (from: number, to: number) => Array.from({ length: to - from + 1 }, (_, index) => from + index);

const acquired: [
  numbers: number[],
  kind: 'salvaged' | 'received',
  taxon: string,
  on: string,
  quantity?: number,
][] = [
  [range(1, 6), 'salvaged', R, '2023-04-10'],
  [range(7, 10), 'salvaged', T, '2023-05-02'],
  [range(11, 12), 'salvaged', G, '2023-06-20'],
  [[13], 'received', R, '2023-07-01'],
  [[14], 'received', G, '2023-07-01'],
  [range(15, 19), 'salvaged', R, '2024-04-12'],
  [range(20, 24), 'salvaged', T, '2024-05-03'],
  [range(25, 26), 'salvaged', G, '2024-09-09'],
  [[27], 'received', T, '2024-10-01'],
  [[29], 'salvaged', G, '2024-06-15', 4],
  [[30], 'salvaged', R, '2024-09-10'],
  [[32], 'salvaged', R, '2024-06-01'],
  [range(33, 35), 'salvaged', R, '2025-03-30'],
  [[36, 40], 'salvaged', T, '2025-05-11'],
  [range(37, 38), 'salvaged', G, '2025-08-08'],
  [[39], 'received', R, '2025-08-09'],
];

const donor = { from: 'A nature centre', fromAuthority: 'P-77' };
const school = { recipient: 'A school', recipientAuthority: 'S-2' };
const burnt = { method: 'incinerated', witness: 'W. Itness' };

const events: StockEvent[] = [
  ...acquired.flatMap(([numbers, kind, taxon, on, quantity = 1]) =>
    numbers.map((number) =>
      kind === 'salvaged'
        ? makeEvent('salvaged', id(number), on, { taxon, quantity })
        : makeEvent('received', id(number), on, { taxon, quantity, ...donor }),
    ),
  ),
  makeEvent('salvaged', id(31), '2023-09-15', { taxon: R, recordedAt: '2024-03-05T09:00:00Z' }),
  // 2023
  makeEvent('transferred', id(1), '2023-10-01', school),
  makeEvent('transferred', id(11), '2023-10-01', school),
  makeEvent('destroyed', id(7), '2023-09-01', burnt),
  makeEvent('identified-anew', id(6), '2023-11-10', { fromTaxon: R, toTaxon: T }),
  // 2024
  makeEvent('corrected', id(28), '2024-12-31', { taxon: R, delta: 1, reason: 'found at the inventory' }),
  makeEvent('corrected', id(16), '2024-12-31', { taxon: R, delta: -1, reason: 'entered twice' }),
  makeEvent('transferred', id(2), '2024-02-10', school),
  makeEvent('transferred', id(8), '2024-02-11', school),
  makeEvent('destroyed', id(15), '2024-07-07', burnt),
  makeEvent('destroyed', id(29), '2024-08-08', { ...burnt, quantity: 1 }),
  makeEvent('released', id(20), '2024-08-09', { to: 'the state office', instruction: 'letter 8' }),
  makeEvent('identified-anew', id(17), '2024-11-01', { fromTaxon: R, toTaxon: T }),
  makeEvent('lent', id(4), '2024-04-01', { borrower: 'A university' }),
  makeEvent('loan-returned', id(4), '2024-10-01', {}),
  makeEvent('prepared', id(9), '2024-03-01', { products: ['skin', 'skeleton', 'vial', 'vial'] }),
  makeEvent('catalogued', id(9), '2024-06-01', { catalogNumber: 'B 1' }),
  // 2025
  makeEvent('transferred', id(5), '2024-12-20', { ...school, recordedAt: '2025-02-10T09:00:00Z' }),
  makeEvent('identified-anew', id(10), '2024-11-11', {
    fromTaxon: T,
    toTaxon: R,
    recordedAt: '2025-03-01T09:00:00Z',
  }),
  makeEvent('transferred', id(18), '2025-06-01', school),
  makeEvent('transferred', id(26), '2025-06-02', school),
  makeEvent('transferred', id(29), '2025-06-03', { ...school, quantity: 3 }),
  makeEvent('destroyed', id(13), '2025-07-01', burnt),
  makeEvent('destroyed', id(21), '2025-07-02', burnt),
  makeEvent('destroyed', id(30), '2025-07-03', burnt),
  makeEvent('released', id(36), '2025-09-01', { to: 'the state office', instruction: 'letter 9' }),
  makeEvent('catalogued', id(3), '2025-11-01', { catalogNumber: 'B 2' }),
];

const special: Record<number, Partial<LedgerBird>> = {
  29: { specimenType: 'egg' },
  30: { specimenType: 'part' },
  32: { specimenType: 'part', parentBirdId: id(3) },
};
const birds = range(1, 40).map((number) => {
  const first = events.find((event) => event.birdId === id(number));
  const on = first?.on ?? '2024-12-31';
  const county = number % 2 === 1 ? 'Cook' : 'Lake';
  return makeBird(id(number), { foundEarliestOn: on, foundLatestOn: on, county, ...special[number] });
});

function reportFor(year: number, recordedThrough: string, before: SalvageReport | null): SalvageReport {
  const previous = before && {
    versionId: `version of ${before.period.fromOn}`,
    recordedThrough: before.recordedThrough,
    closing: before.closing,
  };
  return computeReport(makeInput(year, { birds, events, recordedThrough, previous }));
}

const of2023 = reportFor(2023, '2024-01-20T00:00:00Z', null);
const of2024 = reportFor(2024, '2025-01-20T00:00:00Z', of2023);
const of2025 = reportFor(2025, '2026-01-20T00:00:00Z', of2024);

/** The numbers of a row that are not 0. */
const numbersOf = (row: object | undefined) =>
  Object.fromEntries(
    Object.entries(row ?? {}).filter(([, value]) => typeof value === 'number' && value !== 0),
  );
const rowOf = (
  report: SalvageReport,
  taxon: string,
  specimenType: ReportRow['specimenType'] = 'whole-bird',
) => numbersOf(report.rows.find((row) => row.taxon === taxon && row.specimenType === specimenType));
const heldOf = (report: SalvageReport, taxon: string) =>
  report.lines
    .filter((line) => line.taxon === taxon && line.onHand > 0 && line.specimenType === 'whole-bird')
    .map((line) => Number(line.birdId.slice(1)));

describe('the ledger of forty birds, worked out by hand', () => {
  it('2023, line by line', () => {
    expect(rowOf(of2023, R)).toEqual({
      salvaged: 6,
      received: 1,
      reclassifiedOut: 1,
      transferred: 1,
      onHand: 5,
    });
    expect(rowOf(of2023, T)).toEqual({ salvaged: 4, reclassifiedIn: 1, destroyed: 1, onHand: 4 });
    expect(rowOf(of2023, G)).toEqual({ salvaged: 2, received: 1, transferred: 1, onHand: 2 });
    expect(heldOf(of2023, R)).toEqual([2, 3, 4, 5, 13]);
    expect(heldOf(of2023, T)).toEqual([6, 8, 9, 10]);
    expect(heldOf(of2023, G)).toEqual([12, 14]);
    expect(of2023.lines).toHaveLength(14);
  });

  it('2024, line by line', () => {
    expect(rowOf(of2024, R)).toEqual({
      opening: 5,
      late: 1,
      salvaged: 5,
      reclassifiedOut: 1,
      transferred: 1,
      destroyed: 1,
      onHand: 8,
    });
    expect(rowOf(of2024, T)).toEqual({
      opening: 4,
      salvaged: 5,
      received: 1,
      reclassifiedIn: 1,
      transferred: 1,
      released: 1,
      onHand: 9,
    });
    expect(rowOf(of2024, G)).toEqual({ opening: 2, salvaged: 2, onHand: 4 });
    expect(rowOf(of2024, G, 'egg')).toEqual({ salvaged: 4, destroyed: 1, onHand: 3 });
    expect(rowOf(of2024, R, 'part')).toEqual({ salvaged: 1, onHand: 1 });
    expect(heldOf(of2024, R)).toEqual([3, 4, 5, 13, 18, 19, 28, 31]);
    expect(heldOf(of2024, T)).toEqual([6, 9, 10, 17, 21, 22, 23, 24, 27]);
    expect(heldOf(of2024, G)).toEqual([12, 14, 25, 26]);
    expect(of2024.lines).toHaveLength(28);
    expect(of2024.equation).toBe(
      '11 carried over + 1 entered late + 17 salvaged + 1 received + 0 corrected − 2 transferred − 2 destroyed − 1 released = 25 on hand',
    );
  });

  it('2025, line by line', () => {
    expect(rowOf(of2025, R)).toEqual({
      opening: 8,
      salvaged: 3,
      received: 1,
      transferred: 1,
      destroyed: 1,
      onHand: 10,
    });
    expect(rowOf(of2025, T)).toEqual({
      opening: 9,
      late: -1,
      salvaged: 2,
      destroyed: 1,
      released: 1,
      onHand: 8,
    });
    expect(rowOf(of2025, G)).toEqual({ opening: 4, salvaged: 2, transferred: 1, onHand: 5 });
    expect(rowOf(of2025, G, 'egg')).toEqual({ opening: 3, transferred: 3 });
    expect(rowOf(of2025, R, 'part')).toEqual({ opening: 1, destroyed: 1 });
    expect(heldOf(of2025, R)).toEqual([3, 4, 10, 19, 28, 31, 33, 34, 35, 39]);
    expect(heldOf(of2025, T)).toEqual([6, 9, 17, 22, 23, 24, 27, 40]);
    expect(heldOf(of2025, G)).toEqual([12, 14, 25, 37, 38]);
    expect(of2025.lines).toHaveLength(31);
    expect(numbersOf(of2025.total)).toEqual({
      opening: 25,
      late: -1,
      salvaged: 7,
      received: 1,
      transferred: 5,
      destroyed: 3,
      released: 1,
      onHand: 23,
    });
  });

  it('2024 by county, month and disposition', () => {
    // Acquired from Cook: 15 17 19 21 23 25 27 and the 4 eggs; from Lake: 16 18 20 22 24 26 and the wing.
    expect(of2024.byCounty).toEqual([
      { key: 'US-IL, Cook', acquired: 11, disposed: 2, onHand: 14 },
      { key: 'US-IL, Lake', acquired: 7, disposed: 3, onHand: 11 },
    ]);
    expect(of2024.byMonth.filter((entry) => entry.acquired + entry.disposed > 0)).toEqual([
      { key: '2024-02', acquired: 0, disposed: 2, onHand: null },
      { key: '2024-04', acquired: 5, disposed: 0, onHand: null },
      { key: '2024-05', acquired: 5, disposed: 0, onHand: null },
      { key: '2024-06', acquired: 4, disposed: 0, onHand: null },
      { key: '2024-07', acquired: 0, disposed: 1, onHand: null },
      { key: '2024-08', acquired: 0, disposed: 2, onHand: null },
      { key: '2024-09', acquired: 3, disposed: 0, onHand: null },
      { key: '2024-10', acquired: 1, disposed: 0, onHand: null },
    ]);
    expect(Object.fromEntries(of2024.byDisposition.map((entry) => [entry.key, entry.quantity]))).toEqual({
      'on-hand': 25,
      transferred: 2,
      destroyed: 2,
      released: 1,
      catalogued: 0,
      'corrected-away': 1,
    });
  });

  it('each year opens as the last closed, and no checked rule fails', () => {
    for (const report of [of2023, of2024, of2025]) {
      expect(report.checks.filter((check) => check.holds === false)).toEqual([]);
    }
    expect(of2024.checks.find((check) => check.rule === 2)?.holds).toBe(true);
    expect(of2025.checks.find((check) => check.rule === 2)?.holds).toBe(true);
  });

  it('edge case, late intake: what was entered late is shown and must be explained', () => {
    const late = (report: SalvageReport) =>
      report.warnings.filter((warning) => warning.code === 'late-entry').map((warning) => warning.id);
    expect(late(of2024)).toEqual(['late-entry:b31']);
    expect(of2024.lines.find((line) => line.birdId === id(31))).toMatchObject({
      origin: 'late-entry',
      originOn: '2023-09-15',
    });
    expect(late(of2025)).toEqual(['late-entry:b05']);
    expect(of2025.lines.find((line) => line.birdId === id(5))).toMatchObject({
      origin: 'carried-over',
      outcome: 'transferred',
      outcomeOn: '2024-12-20',
    });
    const explained = {
      'late-entry:b31': 'Found in the freezer without papers; the finder was reached in March.',
    };
    expect(checkReadyToSign(of2024.warnings, {}).ready).toBe(false);
    expect(checkReadyToSign(of2024.warnings, explained).ready).toBe(true);
  });

  it('edge case, amended report: amending 2023 instead moves the late bird there, and both years reconcile', () => {
    const amended = reportFor(2023, '2024-03-31T00:00:00Z', null);
    const difference = diffReports(of2023, amended);
    expect(difference.added.map((line) => line.birdId)).toEqual([id(31)]);
    expect(difference.removed).toEqual([]);
    expect(difference.changed).toEqual([]);
    expect(difference.rows).toEqual([
      {
        taxon: R,
        specimenType: 'whole-bird',
        changes: [
          { field: 'salvaged', from: 6, to: 7 },
          { field: 'onHand', from: 5, to: 6 },
        ],
      },
    ]);
    const after = reportFor(2024, '2025-01-20T00:00:00Z', amended);
    expect(after.total).toMatchObject({ opening: 12, late: 0, onHand: 25 });
    expect(after.checks.find((check) => check.rule === 2)?.holds).toBe(true);
  });
});
