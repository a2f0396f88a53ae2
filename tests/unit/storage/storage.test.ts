import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { planEvacuation, type VialAtRisk } from '@/lib/storage/evacuation';
import { type BoxWithSpace, findSpace, parseSpaceRequest } from '@/lib/storage/find-space';
import {
  emptyOccupancy,
  listFreePositions,
  type Occupancy,
  placeMaterial,
  takeMaterial,
} from '@/lib/storage/occupancy';
import {
  countPositions,
  findFreePositions,
  formatPosition,
  listPositionsInOrder,
  parsePosition,
} from '@/lib/storage/positions';
import {
  buildStorageTree,
  checkPlacement,
  checkUnitMove,
  formatPathName,
  resolveConditions,
} from '@/lib/storage/rules';
import { type Grid, positionSchemes } from '@/lib/storage/schema';
import { tree, units } from './tree';

const grid = (rows: number, columns: number, scheme: Grid['scheme']): Grid => ({ rows, columns, scheme });

describe('positions', () => {
  it.each([
    ['row-letter', 9, 9, 0, 'A1'],
    ['row-letter', 9, 9, 10, 'B2'],
    ['column-letter', 9, 9, 1, 'B1'],
    ['running-by-row', 9, 9, 80, '81'],
    ['running-by-column', 9, 9, 1, '10'],
    ['row-letter', 30, 2, 52, 'AA1'],
  ] as const)('%s in %i × %i: %i is written %s', (scheme, rows, columns, position, name) => {
    expect(formatPosition(grid(rows, columns, scheme), position)).toBe(name);
  });

  it('reads what it writes, in any grid', () => {
    const grids = fc.record({
      rows: fc.integer({ min: 1, max: 60 }),
      columns: fc.integer({ min: 1, max: 60 }),
      scheme: fc.constantFrom(...positionSchemes),
    });
    fc.assert(
      fc.property(grids, fc.nat(), (any, seed) => {
        const position = seed % countPositions(any);
        return parsePosition(any, formatPosition(any, position)).ok
          ? (parsePosition(any, formatPosition(any, position)) as { value: number }).value === position
          : false;
      }),
    );
  });

  it.each(['a1', ' A 1 ', 'A-01', 'a:1', 'Ａ１'])('reads "%s" as A1', (text) => {
    expect(parsePosition(grid(9, 9, 'row-letter'), text)).toEqual({ ok: true, value: 0 });
  });

  it.each([
    ['row-letter', 'J1', 'outside-the-grid'],
    ['row-letter', 'A10', 'outside-the-grid'],
    ['row-letter', 'A0', 'outside-the-grid'],
    ['row-letter', '17', 'not-a-position'],
    ['running-by-row', '82', 'outside-the-grid'],
    ['running-by-row', '0', 'outside-the-grid'],
    ['running-by-column', '0', 'outside-the-grid'],
    ['running-by-row', 'A1', 'not-a-position'],
    ['row-letter', '', 'not-a-position'],
  ] as const)('in %s refuses "%s"', (scheme, text, reason) => {
    expect(parsePosition(grid(9, 9, scheme), text)).toMatchObject({ ok: false, reason });
  });

  it('counts in the order of its names', () => {
    const names = (scheme: Grid['scheme']) =>
      listPositionsInOrder(grid(2, 2, scheme)).map((position) =>
        formatPosition(grid(2, 2, scheme), position),
      );
    expect(names('row-letter')).toEqual(['A1', 'A2', 'B1', 'B2']);
    expect(names('column-letter')).toEqual(['A1', 'A2', 'B1', 'B2']);
    expect(names('running-by-row')).toEqual(['1', '2', '3', '4']);
    expect(names('running-by-column')).toEqual(['1', '2', '3', '4']);
  });

  it('finds free ones, together if asked', () => {
    const box = grid(1, 6, 'running-by-row');
    expect(findFreePositions(box, new Set([0, 2]), 3)).toEqual([1, 3, 4]);
    expect(findFreePositions(box, new Set([0, 2]), 3, true)).toEqual([3, 4, 5]);
    expect(findFreePositions(box, new Set([0, 2]), 4, true)).toEqual([]);
    expect(findFreePositions(box, new Set([0, 2]), 9)).toHaveLength(4);
  });
});

describe('the tree', () => {
  it('names the path and what holds there', () => {
    expect(formatPathName(tree, 'Box 1', 3)).toBe('North › Room 2 › Freezer A › Rack 1 › Box 1 › B1');
    expect(resolveConditions(tree, 'Box 1')).toEqual({
      targetTemperatureC: -80,
      allowedPreservations: ['frozen', 'ethanol'],
      freezerId: 'Freezer A',
      roomId: 'Room 2',
    });
  });

  it('refuses two units with one code', () => {
    const [first, second] = units;
    if (!first || !second) throw new Error('no units');
    expect(() => buildStorageTree([first, { ...second, code: first.code }])).toThrow('on two storage units');
  });

  it.each([
    ['ethanol', 'Box 3', 'too-cold'],
    ['dmso-salt', 'Box 3', 'too-cold'],
    ['frozen', 'Tray', 'not-allowed-here'],
    ['dry', 'Box 1', 'not-allowed-here'],
    ['liquid-nitrogen', 'Box 2', 'too-warm'],
    ['frozen', 'Room 2', 'temperature-unknown'],
  ] as const)('material kept in %s does not go to %s: %s', (preservation, unitId, reason) => {
    expect(checkPlacement(preservation, resolveConditions(tree, unitId))).toMatchObject({
      ok: false,
      reason,
    });
  });

  it('a box moves with what it holds, or says why not', () => {
    const move = (
      id: string,
      parentId: string | null,
      position: number | null,
      held: ('frozen' | 'ethanol')[] = [],
    ) => checkUnitMove(tree, id, { parentId, position }, held);
    expect(move('Box 2', 'Rack 1', 1, ['frozen'])).toEqual({ ok: true, value: null });
    expect(move('Box 2', 'Rack 1', 0)).toMatchObject({ reason: 'position-taken' });
    expect(move('Box 2', 'Rack 1', 2)).toMatchObject({ reason: 'no-such-position' });
    expect(move('Box 1', 'Rack 2', null)).toMatchObject({ reason: 'full' });
    expect(move('Box 1', 'Dewar', null, ['ethanol'])).toMatchObject({ reason: 'too-cold' });
    expect(move('Box 1', 'Tray', null, ['frozen'])).toMatchObject({ reason: 'not-allowed-here' });
    expect(move('Box 1', 'Box 2', 0)).toMatchObject({ reason: 'wrong-kind' });
    expect(move('Box 1', null, null)).toMatchObject({ reason: 'wrong-kind' });
    expect(move('Room 2', 'North', null)).toMatchObject({ ok: true });
    expect(move('nowhere', 'North', null)).toMatchObject({ reason: 'unknown-unit' });
  });

  it('nothing moves into itself', () => {
    const inner = {
      ...units[6],
      id: 'Shelf',
      kind: 'shelf',
      parentId: 'Rack 1',
      code: 'U-S',
      name: 'Shelf',
      grid: null,
    };
    const deeper = buildStorageTree([...units, inner as never]);
    expect(checkUnitMove(deeper, 'Rack 1', { parentId: 'Shelf', position: null }, [])).toMatchObject({
      reason: 'into-itself',
    });
  });
});

describe('who is where', () => {
  const vial = (id: string) => ({ id, preservation: 'frozen' as const });

  it('refuses a taken position and a full box, and changes nothing', () => {
    let book: Occupancy = emptyOccupancy;
    for (let position = 0; position < 9; position += 1) {
      const placed = placeMaterial(tree, book, vial(`v${position}`), { unitId: 'Box 1', position });
      if (!placed.ok) throw new Error(placed.message);
      book = placed.value;
      if (position === 0) {
        const second = placeMaterial(tree, book, vial('other'), { unitId: 'Box 1', position: 0 });
        expect(second).toMatchObject({ ok: false, reason: 'position-taken' });
      }
    }
    expect(listFreePositions(tree, book, 'Box 1', 5)).toEqual([]);
    expect(placeMaterial(tree, book, vial('tenth'), { unitId: 'Box 1', position: 4 })).toMatchObject({
      reason: 'full',
    });
    expect(placeMaterial(tree, book, vial('v1'), { unitId: 'Box 1', position: 9 })).toMatchObject({
      reason: 'no-such-position',
    });
  });

  it('a loan takes it off the shelf, and it must come back before it is shelved', () => {
    const shelved = placeMaterial(tree, emptyOccupancy, vial('v'), { unitId: 'Box 1', position: 0 });
    if (!shelved.ok) throw new Error(shelved.message);
    const lent = takeMaterial(shelved.value, 'v', { where: 'on-loan', loanId: 'L-1' });
    if (!lent.ok) throw new Error(lent.message);
    expect(takeMaterial(lent.value, 'v', { where: 'on-loan', loanId: 'L-2' })).toMatchObject({ ok: false });
    expect(placeMaterial(tree, lent.value, vial('v'), { unitId: 'Box 1', position: 0 })).toMatchObject({
      reason: 'not-on-shelf',
    });
    expect(listFreePositions(tree, lent.value, 'Box 1', 1)).toEqual([0]);
  });

  it('any history of moves and loans leaves each vial in exactly one place', () => {
    const act = fc.oneof(
      fc.record({
        type: fc.constant('place' as const),
        id: fc.integer({ min: 0, max: 14 }),
        unitId: fc.constantFrom('Box 1', 'Box 2', 'Box 3', 'Tray', 'Freezer B'),
        position: fc.option(fc.integer({ min: -1, max: 10 })),
      }),
      fc.record({
        type: fc.constant('take' as const),
        id: fc.integer({ min: 0, max: 14 }),
        to: fc.constantFrom(
          { where: 'on-loan' as const, loanId: 'L-1' },
          { where: 'in-hand' as const, personId: 'p' },
          { where: 'gone' as const },
        ),
      }),
    );
    fc.assert(
      fc.property(fc.array(act, { maxLength: 120 }), (history) => {
        let book: Occupancy = emptyOccupancy;
        for (const step of history) {
          const result =
            step.type === 'place'
              ? placeMaterial(tree, book, vial(`v${step.id}`), step)
              : takeMaterial(book, `v${step.id}`, step.to);
          if (result.ok) book = result.value;
        }
        const onShelf = [...book.placeOf].filter(([, place]) => place.where === 'position');
        const inGrid = onShelf.filter(([, place]) => place.where === 'position' && place.position !== null);
        const counted = [...book.countIn.values()].reduce((sum, count) => sum + count, 0);
        return (
          counted === onShelf.length &&
          book.holderAt.size === inGrid.length &&
          [...book.holderAt].every(([key, id]) => {
            const place = book.placeOf.get(id);
            return place?.where === 'position' && key === `${place.unitId}#${place.position}`;
          })
        );
      }),
    );
  });
});

describe('finding space', () => {
  const box = (
    id: string,
    freezerId: string,
    free: number,
    rest: Partial<BoxWithSpace> = {},
  ): BoxWithSpace => ({
    id,
    pathName: id,
    freezerId,
    roomId: 'r',
    targetTemperatureC: -80,
    allowedPreservations: null,
    freePositions: Array.from({ length: free }, (_, index) => index),
    ...rest,
  });
  const request = { vialCount: 40, boxCount: 2, apart: 'freezer' as const, preservation: 'frozen' as const };

  it('"40 vials, two boxes, different freezers"', () => {
    expect(parseSpaceRequest('40 vials, two boxes, different freezers', 'frozen')).toEqual({
      ok: true,
      value: request,
    });
    const found = findSpace(request, [
      box('a1', 'A', 81),
      box('a2', 'A', 25),
      box('b1', 'B', 20),
      box('c', 'C', 19),
    ]);
    expect(found).toMatchObject({
      ok: true,
      value: { isEven: true, boxes: [{ boxId: 'b1' }, { boxId: 'a2' }] },
    });
    if (found.ok) expect(found.value.boxes.map((entry) => entry.positions.length)).toEqual([20, 20]);
  });

  it.each(['two boxes', 'forty-one vials', '40 vials, blue ones', ''])('does not guess at "%s"', (text) => {
    expect(parseSpaceRequest(text, 'frozen').ok).toBe(false);
  });

  it('goes uneven rather than fail, and says so', () => {
    const found = findSpace(request, [box('a', 'A', 35), box('b', 'B', 6)]);
    expect(found).toMatchObject({ ok: true, value: { isEven: false } });
    if (found.ok) expect(found.value.boxes.map((entry) => entry.positions.length)).toEqual([35, 5]);
  });

  it('does not count boxes of one freezer twice, nor boxes that do not suit', () => {
    const found = findSpace(request, [
      box('a1', 'A', 81),
      box('a2', 'A', 81),
      box('warm', 'B', 81, { targetTemperatureC: 20 }),
    ]);
    expect(found).toMatchObject({ ok: false, reason: 'not-enough-space' });
    if (!found.ok) expect(found.message).toContain('162 free positions in 2 boxes');
  });

  it('any proposal holds exactly what was asked, in different freezers, in free positions', () => {
    const boxes = fc.array(
      fc.record({ freezer: fc.integer({ min: 0, max: 4 }), free: fc.integer({ min: 0, max: 30 }) }),
      {
        maxLength: 12,
      },
    );
    fc.assert(
      fc.property(
        boxes,
        fc.integer({ min: 1, max: 60 }),
        fc.integer({ min: 1, max: 4 }),
        (list, vialCount, boxCount) => {
          fc.pre(boxCount <= vialCount);
          const all = list.map((entry, index) => box(`b${index}`, `f${entry.freezer}`, entry.free));
          const found = findSpace({ ...request, vialCount, boxCount }, all);
          const best = new Map<string, number>();
          for (const entry of all) {
            const key = entry.freezerId ?? '';
            best.set(key, Math.max(best.get(key) ?? 0, entry.freePositions.length));
          }
          const largest = [...best.values()]
            .filter((n) => n > 0)
            .sort((a, b) => b - a)
            .slice(0, boxCount);
          const isPossible =
            largest.length === boxCount && largest.reduce((sum, free) => sum + free, 0) >= vialCount;
          if (!found.ok) return !isPossible;
          const chosen = found.value.boxes.map(
            (entry) => all.find((one) => one.id === entry.boxId) as BoxWithSpace,
          );
          return (
            isPossible &&
            found.value.boxes.length === boxCount &&
            found.value.boxes.reduce((sum, entry) => sum + entry.positions.length, 0) === vialCount &&
            new Set(chosen.map((one) => one.freezerId)).size === boxCount &&
            found.value.boxes.every((entry, i) =>
              entry.positions.every((position) => chosen[i]?.freePositions.includes(position)),
            )
          );
        },
      ),
    );
  });
});

describe('evacuation', () => {
  const vial = (rest: Partial<VialAtRisk> = {}): VialAtRisk => ({
    materialId: 'v',
    preservation: 'frozen',
    qualityStars: 2,
    isOnlyOne: false,
    isPromised: false,
    thawCount: 0,
    otherFreezerIds: [],
    ...rest,
  });
  const refuge = (unitId: string, freezerId: string, freeBoxPlaces: number, targetTemperatureC = -80) => ({
    unitId,
    pathName: unitId,
    freezerId,
    freeBoxPlaces,
    targetTemperatureC,
    allowedPreservations: null,
  });

  it('takes what cannot be replaced first, and dry ice when places run out', () => {
    const plan = planEvacuation(
      [
        { boxId: 'ethanol', pathName: 'ethanol', vials: [vial({ preservation: 'ethanol' })] },
        { boxId: 'doubles', pathName: 'doubles', vials: [vial({ otherFreezerIds: ['C'] })] },
        { boxId: 'only', pathName: 'only', vials: [vial({ isOnlyOne: true, qualityStars: 4 })] },
      ],
      [refuge('rack-b', 'B', 1), refuge('rack-c', 'C', 1)],
    );
    expect(plan.map((step) => [step.boxId, step.refuge?.unitId ?? null])).toEqual([
      ['only', 'rack-b'],
      ['doubles', 'rack-c'],
      ['ethanol', null],
    ]);
    expect(plan[0]?.reasons).toContain('1 without a duplicate in another freezer');
    expect(plan[1]?.remark).toContain('same freezer as their duplicates');
    expect(plan[2]?.remark).toContain('dry ice');
  });

  it('sends nothing where it would spoil', () => {
    const [step] = planEvacuation(
      [{ boxId: 'b', pathName: 'b', vials: [vial({ preservation: 'ethanol' }), vial()] }],
      [refuge('dewar', 'D', 5, -190), refuge('fridge', 'E', 5, 4)],
    );
    expect(step).toMatchObject({ refuge: null, remark: 'No other place suits what is in this box.' });
  });
});
