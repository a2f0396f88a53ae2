import { describe, expect, it } from 'vitest';
import { z } from 'zod';
import { readCursor, writeCursor } from '@/lib/platform/paging';
import { unfitPart } from '@/lib/platform/wire-text';

const deep = (levels: number): unknown => (levels === 0 ? 1 : [deep(levels - 1)]);

describe('text from outside', () => {
  it.each([
    ['letters of every script, emoji of several parts, tabs and line ends', 'Müller ♂ 鳥\t"x"\r\n👩‍👩‍👧'],
    ['a number', 7],
    ['nothing', null],
    ['a value within values', { a: [{ b: 'x' }] }],
    ['32 deep', deep(32)],
  ])('%s: fits', (_, value) => expect(unfitPart(value)).toBeNull());

  it.each([
    ['a zero', { name: 'a\u0000' }, 'name'],
    ['the separator of the audit trail', { a: ['x', 'a\u001fb'] }, 'a.1'],
    ['the first half of a character', { name: '\ud83d' }, 'name'],
    ['the second half of one', ['\ude00'], '0'],
    ['a name of a value', { a: { 'x\u0007': 1 } }, 'a'],
    ['33 deep', { a: deep(32) }, 'a.0.0'],
    ['very deep', deep(5_000), '0.0.0'],
  ])('%s: refused, with the path to it', (_, value, path) => {
    expect(unfitPart(value)).toMatchObject({ path });
  });

  it('also hidden in a cursor of a page', () => {
    const shape = z.tuple([z.string()]);
    expect(readCursor(writeCursor(['x']), shape)).toEqual(['x']);
    expect(() => readCursor(writeCursor(['\u0000']), shape)).toThrow(/first page/);
  });
});
