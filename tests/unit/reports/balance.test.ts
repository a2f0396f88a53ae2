import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { addDays } from '@/lib/permits/rules/dates';
import { computeReport } from '@/lib/reports/rules/ledger';
import type { LedgerBird, SalvageReport, StockEvent } from '@/lib/reports/schema';
import { authority, makeBird, makeEvent, makeInput } from './build';

const names = ['Turdus migratorius', 'Catharus ustulatus', 'Larus argentatus'];
const taxon = fc.constantFrom(...names);
const day = fc.integer({ min: 0, max: 1095 }).map((offset) => addDays('2023-01-01', offset));
const number = fc.integer({ min: 0, max: 11 });
const years = [2023, 2024, 2025];

/** Any event for any bird at any time, recorded up to 500 days later: most histories make no sense. */
const anyEvent: fc.Arbitrary<StockEvent> = fc
  .record({
    kind: fc.constantFrom(
      'salvaged' as const,
      'received' as const,
      'corrected' as const,
      'identified-anew' as const,
      'transferred' as const,
      'destroyed' as const,
      'released' as const,
      'catalogued' as const,
      'prepared' as const,
      'lent' as const,
      'loan-returned' as const,
    ),
    bird: number,
    on: day,
    lag: fc.integer({ min: 0, max: 500 }),
    one: taxon,
    two: taxon,
    quantity: fc.integer({ min: 1, max: 3 }),
    delta: fc.constantFrom(-2, -1, 1, 2),
    elsewhere: fc.boolean(),
  })
  .map((entry) =>
    makeEvent(entry.kind as 'salvaged', `b${entry.bird}`, entry.on, {
      taxon: entry.one,
      fromTaxon: entry.one,
      toTaxon: entry.two,
      delta: entry.delta,
      quantity: entry.quantity,
      recordedAt: `${addDays(entry.on, entry.lag)}T08:00:00Z`,
      authorityId: entry.elsewhere ? 'another' : authority.id,
    } as never),
  );

const birds: LedgerBird[] = Array.from({ length: 12 }, (_, index) =>
  makeBird(`b${index}`, {
    county: index % 3 === 0 ? 'Cook' : index % 3 === 1 ? 'Lake' : null,
    specimenType: index === 5 ? 'egg' : index > 9 ? 'part' : 'whole-bird',
    parentBirdId: index === 11 ? 'b1' : null,
  }),
);

function chain(events: StockEvent[], cataloguingIsDisposition: boolean): SalvageReport[] {
  const reports: SalvageReport[] = [];
  for (const year of years) {
    const last = reports.at(-1);
    reports.push(
      computeReport(
        makeInput(year, {
          birds,
          events,
          authority: { ...authority, cataloguingIsDisposition },
          recordedThrough: `${year + 1}-01-20T00:00:00Z`,
          previous: last
            ? { versionId: String(year), recordedThrough: last.recordedThrough, closing: last.closing }
            : null,
        }),
      ),
    );
  }
  return reports;
}

const holds = (report: SalvageReport, rule: number) =>
  report.checks.find((check) => check.rule === rule)?.holds;

describe('random histories', { timeout: 60_000 }, () => {
  it('the balance always holds: rows, lines, totals, opening and closing', () => {
    fc.assert(
      fc.property(fc.array(anyEvent, { maxLength: 60 }), fc.boolean(), (events, setting) => {
        const reports = chain(events, setting);
        for (const report of reports) {
          expect([1, 4, 6, 8].map((rule) => holds(report, rule))).toEqual([true, true, true, true]);
          expect(report.rows.every((row) => row.onHand >= 0)).toBe(true);
        }
        for (const report of reports.slice(1)) expect(holds(report, 2)).toBe(true);
      }),
      { numRuns: 300, seed: 11 },
    );
  });

  it('no bird is on two lines, and none with stock or movement is on none', () => {
    fc.assert(
      fc.property(fc.array(anyEvent, { maxLength: 60 }), (events) => {
        for (const report of chain(events, false)) {
          const ids = report.lines.map((line) => line.birdId);
          expect(new Set(ids).size).toBe(ids.length);
          for (const part of report.movements) expect(ids).toContain(part.birdId);
          const held = report.lines.reduce((sum, line) => sum + line.onHand, 0);
          expect(held).toBe(report.closing.reduce((sum, count) => sum + count.quantity, 0));
        }
      }),
      { numRuns: 300, seed: 12 },
    );
  });

  it('sensible histories give what a direct count of the birds gives', () => {
    const life = fc.record({
      came: day,
      stays: fc.option(fc.integer({ min: 1, max: 700 }), { nil: null }),
      first: taxon,
      renamed: fc.option(fc.record({ after: fc.integer({ min: 0, max: 400 }), to: taxon }), { nil: null }),
      way: fc.constantFrom('transferred' as const, 'destroyed' as const, 'released' as const),
    });
    fc.assert(
      fc.property(fc.array(life, { maxLength: 30 }), (lives) => {
        const flock = lives.map((_, index) => makeBird(`n${index}`));
        const events = lives.flatMap((entry, index) => {
          const own = [makeEvent('salvaged', `n${index}`, entry.came, { taxon: entry.first })];
          const left = entry.stays === null ? null : addDays(entry.came, entry.stays);
          const renamedOn = entry.renamed && addDays(entry.came, entry.renamed.after);
          if (entry.renamed && renamedOn && (left === null || renamedOn <= left)) {
            const words = { fromTaxon: entry.first, toTaxon: entry.renamed.to };
            own.push(makeEvent('identified-anew', `n${index}`, renamedOn, words));
          }
          if (left) own.push(makeEvent(entry.way as 'transferred', `n${index}`, left, {} as never));
          return own;
        });
        for (const year of years) {
          const report = computeReport(makeInput(year, { birds: flock, events }));
          const end = `${year}-12-31`;
          const here = lives.filter(
            ({ came, stays }) => came <= end && (stays === null || addDays(came, stays) > end),
          );
          const namedAtEnd = here.map(({ first, renamed, came }) =>
            renamed && addDays(came, renamed.after) <= end ? renamed.to : first,
          );
          for (const name of names) {
            const row = report.rows.find((entry) => entry.taxon === name);
            expect(row?.onHand ?? 0).toBe(namedAtEnd.filter((entry) => entry === name).length);
          }
          expect(report.total.salvaged).toBe(
            lives.filter(({ came }) => came.startsWith(String(year))).length,
          );
        }
      }),
      { numRuns: 200, seed: 13 },
    );
  });

  it('the order in which events and birds are handed over does not matter', () => {
    fc.assert(
      fc.property(fc.array(anyEvent, { maxLength: 40 }), (events) => {
        const [forward] = chain(events, false);
        const [backward] = chain([...events].reverse(), false);
        expect(backward?.rows).toEqual(forward?.rows);
        expect(backward?.lines).toEqual(forward?.lines);
      }),
      { numRuns: 100, seed: 14 },
    );
  });
});
