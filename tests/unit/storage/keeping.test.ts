import { describe, expect, it } from 'vitest';
import { markOf, preservationOf, vialStateWhenFound } from '@/lib/storage/keeping';

describe('how a material must be kept', () => {
  it.each([
    ['a vial, as it was filled', { kind: 'vial', state: 'stored', preservation: 'ethanol' }, 'ethanol'],
    ['a skin, dry', { kind: 'skin', state: 'shelved', preservation: null }, 'dry'],
    ['a skin in its pest freeze, anywhere', { kind: 'skin', state: 'pest-freeze', preservation: null }, null],
    [
      'a carcass, anywhere: it may wait in a refrigerator',
      { kind: 'carcass', state: null, preservation: null },
      null,
    ],
    ['a bird in spirit, as ethanol is', { kind: 'fluid', state: null, preservation: null }, 'ethanol'],
  ])('%s', (_, material, expected) => {
    expect(preservationOf(material)).toBe(expected);
  });
});

it('marks a cap with the suffix and the first tissue', () => {
  expect(markOf('T1', ['liver', 'heart'])).toBe('T1 L');
  expect(markOf('B', [])).toBe('B');
});

it('a vial that turns up is what it was', () => {
  expect([vialStateWhenFound(false), vialStateWhenFound(true)]).toEqual(['stored', 'partly-used']);
});
