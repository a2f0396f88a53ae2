import { describe, expect, it } from 'vitest';
import type { FieldId } from '@/lib/bench/fields';
import { findUndo, type UndoEntry } from '@/lib/bench/undo';
import { applyWrites, type FieldWrite, type HeldEntry } from '@/lib/bench/writing';

let keys = 0;
const write = (
  field: FieldId,
  value: FieldWrite['value'],
  atMs: number,
  more: Partial<FieldWrite> = {},
): FieldWrite => {
  keys += 1;
  return {
    field,
    value,
    unit: 'mm',
    method: null,
    verbatim: null,
    correction: false,
    clientKey: `k${keys}`,
    atMs,
    ...more,
  };
};
const holds = (value: HeldEntry['value'], atMs: number, by: string): HeldEntry => ({
  value,
  unit: 'mm',
  method: null,
  verbatim: null,
  atMs,
  by,
});
const outcomesOf = (result: ReturnType<typeof applyWrites>) => result.outcomes.map(({ outcome }) => outcome);

describe('applyWrites', () => {
  it('keeps every value that was said of a field and lets the last one hold', () => {
    const result = applyWrites({}, [write('wingMm', 94, 1), write('wingMm', 95, 2)], 'ana');
    expect(result.entries.map(({ value, current }) => [value, current])).toEqual([
      [94, false],
      [95, true],
    ]);
    expect(result.held.wingMm?.value).toBe(95);
  });

  it('adds nothing when the same is said again, but does when the method changes', () => {
    const before = { wingMm: holds(94, 1, 'ana') };
    expect(applyWrites(before, [write('wingMm', 94, 2)], 'ben').entries).toEqual([]);
    expect(outcomesOf(applyWrites(before, [write('wingMm', 94, 2, { method: 'chord' })], 'ben'))).toEqual([
      'written',
    ]);
  });

  it('keeps, but does not let hold, what was written before somebody else wrote and arrived after', () => {
    const result = applyWrites({ tailMm: holds(71, 10, 'ben') }, [write('tailMm', 70, 5)], 'ana');
    expect(outcomesOf(result)).toEqual(['outranked']);
    expect(result.entries).toMatchObject([{ value: 70, current: false, outranked: true }]);
    expect(result.held).toEqual({});
  });

  it('lets the later one of two people hold, and never outranks a person by themself', () => {
    expect(
      outcomesOf(applyWrites({ tailMm: holds(71, 10, 'ben') }, [write('tailMm', 70, 11)], 'ana')),
    ).toEqual(['written']);
    expect(
      outcomesOf(applyWrites({ tailMm: holds(71, 10, 'ana') }, [write('tailMm', 70, 5)], 'ana')),
    ).toEqual(['written']);
  });

  it('gathers what two people saw, whoever came first', () => {
    const before = { organsSeen: holds(['oviduct'], 10, 'ben') };
    const result = applyWrites(before, [write('organsSeen', ['left-ovary'], 5)], 'ana');
    expect(result.held.organsSeen?.value).toEqual(['oviduct', 'left-ovary']);
  });

  it('takes a value away, once', () => {
    const before = { massG: holds(78, 1, 'ana') };
    const result = applyWrites(before, [write('massG', null, 2), write('massG', null, 3)], 'ana');
    expect(outcomesOf(result)).toEqual(['written', 'unchanged']);
    expect(result.held.massG?.value).toBeNull();
  });

  it('gives the same end whichever of two people is delivered first', () => {
    const ana = [write('wingMm', 94, 1), write('tailMm', 70, 3)];
    const ben = [write('tailMm', 71, 4), write('massG', 61, 2)];
    const end = (first: [FieldWrite[], string], second: [FieldWrite[], string]) => {
      const one = applyWrites({}, ...first);
      const two = applyWrites(one.held, ...second);
      const all = { ...one.held, ...two.held };
      return Object.fromEntries(Object.entries(all).map(([field, held]) => [field, held?.value]));
    };
    expect(end([ana, 'ana'], [ben, 'ben'])).toEqual(end([ben, 'ben'], [ana, 'ana']));
  });
});

describe('findUndo', () => {
  const entry = (
    id: string,
    field: FieldId,
    value: number | null,
    by: string,
    more: Partial<UndoEntry> = {},
  ) => ({
    id,
    field,
    value,
    unit: 'mm',
    method: null,
    verbatim: null,
    by,
    undoesId: null,
    outranked: false,
    ...more,
  });

  it('takes back the last change of the person, not of somebody else', () => {
    const entries = [
      entry('1', 'wingMm', 94, 'ana'),
      entry('2', 'tailMm', 70, 'ana'),
      entry('3', 'massG', 61, 'ben'),
    ];
    expect(findUndo(entries, 'ana')?.undone.id).toBe('2');
    expect(findUndo(entries, 'ben')?.undone.id).toBe('3');
    expect(findUndo(entries, 'cleo')).toBeNull();
  });

  it('goes one step further back each time', () => {
    const entries = [entry('1', 'wingMm', 94, 'ana'), entry('2', 'wingMm', 95, 'ana')];
    expect(findUndo(entries, 'ana')?.before?.value).toBe(94);
    const once = [...entries, entry('3', 'wingMm', 94, 'ana', { undoesId: '2' })];
    expect(findUndo(once, 'ana')).toMatchObject({ undone: { id: '1' }, before: null });
    const twice = [...once, entry('4', 'wingMm', null, 'ana', { undoesId: '1' })];
    expect(findUndo(twice, 'ana')).toBeNull();
  });

  it('leaves alone what somebody has written over since', () => {
    const entries = [entry('1', 'wingMm', 94, 'ana'), entry('2', 'wingMm', 96, 'ben')];
    expect(findUndo(entries, 'ana')).toBeNull();
  });

  it('passes over what came too late to hold', () => {
    const entries = [
      entry('1', 'wingMm', 94, 'ana'),
      entry('2', 'tailMm', 71, 'ben'),
      entry('3', 'tailMm', 70, 'ana', { outranked: true }),
    ];
    expect(findUndo(entries, 'ana')?.undone.id).toBe('1');
  });
});
