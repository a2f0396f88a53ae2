import { describe, expect, it } from 'vitest';
import { computeReport } from '@/lib/reports/rules/ledger';
import { authority, makeBird, makeEvent, makeInput } from './build';

const taxon = 'Turdus migratorius';

describe('edge cases of the bird book', () => {
  it('edge case, two authorities: each ledger counts the bird once, neither counts the other’s event', () => {
    const events = [
      makeEvent('salvaged', 'a', '2024-05-01', { taxon }),
      makeEvent('salvaged', 'a', '2024-05-01', { taxon, authorityId: 'state-permit' }),
    ];
    for (const id of [authority.id, 'state-permit']) {
      const report = computeReport(
        makeInput(2024, { birds: [makeBird('a')], events, authority: { ...authority, id } }),
      );
      expect(report.total).toMatchObject({ salvaged: 1, onHand: 1 });
      expect(report.lines).toHaveLength(1);
      expect(report.warnings).toEqual([]);
    }
  });

  it('edge case, unusable carcass: destroyed, it is still acquired and disposed of, with method, date, witness', () => {
    const events = [
      makeEvent('salvaged', 'a', '2024-05-01', { taxon }),
      makeEvent('destroyed', 'a', '2024-05-02', { method: 'incinerated', witness: 'W. Itness' }),
    ];
    const report = computeReport(makeInput(2024, { birds: [makeBird('a')], events }));
    expect(report.lines).toEqual([
      expect.objectContaining({
        acquired: 1,
        disposed: 1,
        onHand: 0,
        outcome: 'destroyed',
        outcomeOn: '2024-05-02',
        outcomeDetail: 'incinerated, witness W. Itness',
      }),
    ]);
  });

  it('edge case, fiscal year: the period counts by its own days', () => {
    const events = ['2024-06-30', '2024-07-01', '2025-06-30', '2025-07-01'].map((on, index) =>
      makeEvent('salvaged', `b${index}`, on, { taxon }),
    );
    const birds = events.map((event) => makeBird(event.birdId));
    const period = { fromOn: '2024-07-01', untilOn: '2025-06-30' };
    const { total } = computeReport(makeInput(2024, { birds, events, period }));
    expect(total).toMatchObject({ opening: 1, salvaged: 2, onHand: 3 });
  });

  it('edge case, parts, nests, eggs: a clutch is counted in eggs, a nest and feathers in their own rows', () => {
    const birds = [
      makeBird('eggs', { specimenType: 'egg' }),
      makeBird('nest', { specimenType: 'nest' }),
      makeBird('plumes', { specimenType: 'feathers' }),
    ];
    const events = birds.map((bird) =>
      makeEvent('salvaged', bird.birdId, '2024-05-01', { taxon, quantity: bird.birdId === 'eggs' ? 4 : 1 }),
    );
    const { rows } = computeReport(makeInput(2024, { birds, events }));
    expect(rows.map((row) => [row.specimenType, row.onHand])).toEqual([
      ['egg', 4],
      ['feathers', 1],
      ['nest', 1],
    ]);
  });

  it('a bird that came back is still on one line', () => {
    const events = [
      makeEvent('salvaged', 'a', '2024-05-01', { taxon }),
      makeEvent('transferred', 'a', '2024-06-01', { recipient: 'A school', recipientAuthority: 'S-2' }),
      makeEvent('received', 'a', '2024-09-01', { taxon, from: 'A school', fromAuthority: 'S-2' }),
    ];
    const report = computeReport(makeInput(2024, { birds: [makeBird('a')], events }));
    expect(report.lines).toEqual([
      expect.objectContaining({ acquired: 2, disposed: 1, onHand: 1, outcome: 'on-hand' }),
    ]);
  });

  it('a parent entered late takes its part out of the count, and the opening shows it as late', () => {
    const birds = [makeBird('a'), makeBird('wing', { parentBirdId: 'a', specimenType: 'part' })];
    const wing = makeEvent('salvaged', 'wing', '2023-06-01', { taxon });
    const parent = makeEvent('salvaged', 'a', '2023-05-01', { taxon, recordedAt: '2024-03-01T00:00:00Z' });
    const before = computeReport(
      makeInput(2023, { birds, events: [wing, parent], recordedThrough: '2024-01-20T00:00:00Z' }),
    );
    expect(before.closing).toEqual([{ taxon, specimenType: 'part', quantity: 1 }]);
    const previous = { versionId: 'v1', recordedThrough: before.recordedThrough, closing: before.closing };
    const report = computeReport(makeInput(2024, { birds, events: [wing, parent], previous }));
    expect(report.rows.map((row) => [row.specimenType, row.opening, row.late, row.onHand])).toEqual([
      ['part', 1, -1, 0],
      ['whole-bird', 0, 1, 1],
    ]);
    expect(report.checks.filter((check) => check.holds === false)).toEqual([]);
  });
});
