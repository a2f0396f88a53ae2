import { describe, expect, it } from 'vitest';
import { earlierValues } from '@/lib/catalogue/rules/earlier';

const said = (value: unknown, at: string) => ({ value, at });
const amended = (before: unknown, after: unknown, at: string) => ({
  field: 'wingMm',
  before,
  after,
  at,
});
const wing = (value: unknown, ...superseded: ReturnType<typeof said>[]) => ({
  field: 'wingMm',
  value,
  superseded,
});

describe('values that stood in a field before', () => {
  it.each([
    ['nothing was ever changed', [wing(94)], [], []],
    ['the bench corrected it twice', [wing(94, said(93, '2'), said(92, '1'))], [], [93, 92]],
    ['the same twice is one', [wing(94, said(93, '2'), said(93, '1'))], [], [93]],
    ['what stands again is no earlier value', [wing(94, said(94, '1'), said(93, '2'))], [], [93]],
    ['an amendment', [wing(95)], [amended(94, 95, '3')], [94]],
    ['amended and put back', [wing(94)], [amended(95, 94, '4'), amended(94, 95, '3')], [95]],
    ['both kinds, the newest first', [wing(95, said(93, '1'))], [amended(94, 95, '3')], [94, 93]],
    ['a value that was taken away', [], [amended(94, null, '3')], [94]],
    ['nothing is not put back', [wing(94, said(null, '1'))], [amended(null, 94, '3')], []],
    [
      'values of several parts',
      [wing({ lengthMm: 7 })],
      [amended({ lengthMm: 6 }, { lengthMm: 7 }, '3')],
      [{ lengthMm: 6 }],
    ],
  ])('%s', (_, fields, amendments, expected) => {
    expect(earlierValues(fields, amendments).map(({ value }) => value)).toEqual(expected);
  });
});
