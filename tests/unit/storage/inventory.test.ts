import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { compareInventory, mergeScans } from '@/lib/storage/inventory';
import type { InventoryScan } from '@/lib/storage/schema';

const scan = (
  id: string,
  code: string,
  unitId: string,
  position: number | null,
  minute = 0,
  by = 'Ada',
): InventoryScan => ({
  id,
  sessionId: 's',
  code,
  unitId,
  position,
  scannedById: by,
  scannedAt: new Date(Date.UTC(2026, 2, 5, 9, minute)).toISOString(),
});
const expected = [
  { materialId: 'm1', code: 'T1', unitId: 'Box 1', position: 0 },
  { materialId: 'm2', code: 'T2', unitId: 'Box 1', position: 1 },
  { materialId: 'm3', code: 'T3', unitId: 'Box 1', position: 2 },
];
const elsewhere = new Map([['T9', { materialId: 'm9', placeName: 'Freezer B › Box 7 › A1' }]]);

describe('an inventory', () => {
  const scans = [
    scan('1', 'T1', 'Box 1', 0),
    scan('2', 'T2', 'Box 1', 5),
    scan('3', 'T9', 'Box 1', 6),
    scan('4', 'X-unknown', 'Box 1', 7),
  ];

  it('tells missing, misplaced and unexpected, each with its resolution', () => {
    const result = compareInventory(expected, scans, elsewhere, true);
    expect(result).toMatchObject({ confirmed: 1, seen: 2, expected: 3 });
    expect(result.findings).toEqual([
      {
        kind: 'misplaced',
        materialId: 'm2',
        code: 'T2',
        expected: { unitId: 'Box 1', position: 1 },
        found: { unitId: 'Box 1', position: 5 },
        resolution: 'record-where-found',
      },
      {
        kind: 'missing',
        materialId: 'm3',
        code: 'T3',
        expected: { unitId: 'Box 1', position: 2 },
        resolution: 'mark-missing',
      },
      {
        kind: 'unexpected',
        materialId: 'm9',
        code: 'T9',
        found: { unitId: 'Box 1', position: 6 },
        bookPlace: 'Freezer B › Box 7 › A1',
        resolution: 'record-where-found',
      },
      {
        kind: 'unexpected',
        materialId: null,
        code: 'X-unknown',
        found: { unitId: 'Box 1', position: 7 },
        bookPlace: null,
        resolution: 'find-out-what-it-is',
      },
    ]);
  });

  it('calls nothing missing while it still runs', () => {
    const kinds = compareInventory(expected, scans, elsewhere, false).findings.map((finding) => finding.kind);
    expect(kinds).not.toContain('missing');
  });

  it('a box scanned without positions confirms what lies in it', () => {
    const result = compareInventory(expected, [scan('1', 'T1', 'Box 1', null)], new Map(), false);
    expect(result).toMatchObject({ confirmed: 1, findings: [] });
  });

  it('the last scan of a vial counts', () => {
    const twice = [scan('b', 'T1', 'Box 1', 0, 20, 'Bo'), scan('a', 'T1', 'Box 2', 3, 10)];
    expect(compareInventory(expected, twice, new Map(), false)).toMatchObject({ confirmed: 1, findings: [] });
  });

  it('two vials in one position is an error of scanning', () => {
    const both = [scan('1', 'T1', 'Box 1', 0), scan('2', 'T2', 'Box 1', 0, 1)];
    const finding = compareInventory(expected, both, new Map(), false).findings.find(
      (entry) => entry.kind === 'two-in-one-position',
    );
    expect(finding).toMatchObject({ codes: ['T1', 'T2'], resolution: 'scan-again' });
  });

  it('refuses a book in which one code stands for two materials', () => {
    const doubled = [...expected, { materialId: 'm4', code: 'T1', unitId: 'Box 2', position: 0 }];
    expect(() => compareInventory(doubled, [], new Map(), true)).toThrow('Two materials carry the code T1');
  });
});

describe('two people at once', () => {
  const anyScan = fc
    .record({
      id: fc.integer({ min: 0, max: 30 }),
      minute: fc.integer({ min: 0, max: 5 }),
      code: fc.integer({ min: 1, max: 6 }),
      position: fc.option(fc.integer({ min: 0, max: 4 })),
    })
    .map(({ id, minute, code, position }) => scan(`s${id}`, `T${code}`, 'Box 1', position, minute));
  // One id is one scan; whichever device sends it, it says the same.
  const lists = fc.uniqueArray(anyScan, { selector: (entry) => entry.id, maxLength: 25 });

  it('scans merge the same in any order, any split and any number of times', () => {
    fc.assert(
      fc.property(lists, fc.nat(), (all, cut) => {
        const at = all.length === 0 ? 0 : cut % all.length;
        const [left, right] = [all.slice(0, at), all.slice(at)];
        const whole = mergeScans(all);
        expect(mergeScans(right, left)).toEqual(whole);
        expect(mergeScans(mergeScans(left), right, left)).toEqual(whole);
        expect(mergeScans([...all].reverse())).toEqual(whole);
      }),
    );
  });

  it('every expected vial is confirmed, misplaced or missing, and exactly one of them', () => {
    fc.assert(
      fc.property(lists, (all) => {
        const result = compareInventory(expected, all, elsewhere, true);
        const found = result.findings.filter(
          (entry) => entry.kind === 'missing' || entry.kind === 'misplaced',
        );
        return result.confirmed + found.length === expected.length;
      }),
    );
  });
});
