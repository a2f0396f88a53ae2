import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import {
  checkTemplate,
  DEFAULT_TEMPLATES,
  findConfusableKinds,
  formatNumber,
  materialNumber,
  NUMBER_KINDS,
  numberScope,
  numberTemplateSchema,
  parseNumber,
  splitMaterialNumber,
} from '@/lib/platform/numbers';

const codes = (template: string) => checkTemplate(template).map((problem) => problem.code);

describe('number templates', () => {
  it.each([
    ['{year}-{n:4}', []],
    ['{yy}{month}-{n:3}', []],
    ['{initials} {n}', []],
    ['B-{n:6}', []],
    ['{n}{year}', []],
    ['', ['no-number']],
    ['2024', ['no-number']],
    ['{year}', ['no-number']],
    ['{n}-{n}', ['twice']],
    ['{year}/{yy}/{n}', ['twice']],
    ['{month}-{n}', ['month-alone']],
    ['{day}-{n}', ['unknown-field']],
    ['{N}', ['unknown-field']],
    ['{n:0}', ['bad-width']],
    ['{n:12}', ['bad-width']],
    ['{year:4}-{n}', ['bad-width']],
    ['{n', ['unknown-field']],
    ['n}', ['unknown-field']],
    ['Ä-{n}', ['bad-character']],
    ['7{n}', ['unclear-join']],
    ['{n}7', ['unclear-join']],
    ['S{initials}-{n}', ['unclear-join']],
    [' {n}', ['spaces']],
    ['A  {n}', ['spaces']],
    [`${'A'.repeat(40)}-{n}`, ['too-long']],
  ])('“%s” has problems %j', (template, expected) => {
    expect(codes(template)).toEqual(expected);
    expect(numberTemplateSchema.safeParse(template).success).toBe(expected.length === 0);
  });

  it('ships usable start values that cannot be mistaken for each other', () => {
    for (const kind of NUMBER_KINDS) expect(codes(DEFAULT_TEMPLATES[kind])).toEqual([]);
    expect(findConfusableKinds(DEFAULT_TEMPLATES)).toEqual([]);
  });

  it('finds kinds that could be mistaken for each other', () => {
    expect(findConfusableKinds({ ...DEFAULT_TEMPLATES, loan: 'SB-{year}-{n}' })).toEqual([
      ['salvage', 'loan'],
    ]);
    expect(findConfusableKinds({ ...DEFAULT_TEMPLATES, catalogue: 'B {n}' })).toEqual([
      ['preparation', 'catalogue'],
    ]);
  });
});

describe('numbers by a template', () => {
  it.each([
    ['{year}-{n:4}', { n: 7, year: 2024 }, '2024-0007'],
    ['{year}-{n:4}', { n: 12345, year: 2024 }, '2024-12345'],
    ['{yy}{month}-{n}', { n: 7, year: 2009, month: 3 }, '0903-7'],
    ['{initials} {n}', { n: 812, initials: 'ak' }, 'AK 812'],
  ])('%s of %o is %s', (template, values, text) => {
    expect(formatNumber(template, values)).toBe(text);
  });

  it.each([
    ['{year}-{n}', { n: 1 }, /year/],
    ['{n}', { n: 0 }, /starts at 1/],
    ['{n}', { n: 1.5 }, /starts at 1/],
    ['{initials} {n}', { n: 1, initials: 'A1' }, /Initials/],
    ['{year}-{n}', { n: 1, year: 24 }, /four figures/],
    ['{yy}{month}-{n}', { n: 1, year: 2024, month: 13 }, /Month/],
    ['{day}', { n: 1 }, /not a field/],
  ])('%s of %o is refused', (template, values, message) => {
    expect(() => formatNumber(template, values)).toThrow(message);
  });

  it.each([
    ['SB-{year}-{n:4}', 'sb-2024-7', 'SB-2024-0007'],
    ['SB-{year}-{n:4}', ' SB-2024-00012 ', 'SB-2024-0012'],
    ['{initials} {n}', 'ak   12', 'AK 12'],
    ['{yy}-{n:3}', '24-1', '24-001'],
  ])('%s reads “%s” as %s', (template, text, canonical) => {
    expect(parseNumber(template, text)?.canonical).toBe(canonical);
  });

  it.each(['SB-2024', 'SB-2024-0', 'SB-24-1', 'XSB-2024-1', 'SB-2024-1x', ''])(
    'does not read “%s”',
    (text) => {
      expect(parseNumber('SB-{year}-{n:4}', text)).toBeNull();
    },
  );

  it('treats every literal character as itself', () => {
    expect(parseNumber('A.{n}', 'AX1')).toBeNull();
    expect(parseNumber('A.{n}', 'A.1')?.n).toBe(1);
  });

  const anyTemplate = fc
    .array(
      fc.constantFrom(
        '{year}',
        '{yy}',
        '{month}',
        '{initials}',
        '{n}',
        '{n:5}',
        '-',
        '/',
        'SB',
        '#',
        '.',
        ' ',
        '12',
        'x',
      ),
      { minLength: 1, maxLength: 6 },
    )
    .map((parts) => parts.join(''))
    .filter((template) => checkTemplate(template).length === 0);
  const anyValues = fc.record({
    n: fc.integer({ min: 1, max: 9_999_999 }),
    year: fc.integer({ min: 2000, max: 2099 }),
    month: fc.integer({ min: 1, max: 12 }),
    initials: fc.stringMatching(/^[A-Z]{1,5}$/),
  });

  it('reads back what it writes, in any letter case', () => {
    fc.assert(
      fc.property(anyTemplate, anyValues, (template, values) => {
        const text = formatNumber(template, values);
        for (const written of [text, text.toLowerCase()]) {
          const read = parseNumber(template, written);
          expect(read?.canonical).toBe(text);
          expect(read?.n).toBe(values.n);
          if (read?.initials !== undefined) expect(read.initials).toBe(values.initials);
        }
      }),
    );
  });

  it('never writes two numbers alike within a template', () => {
    fc.assert(
      fc.property(anyTemplate, anyValues, anyValues, (template, one, other) => {
        const sameSeries = numberScope(template, one) === numberScope(template, other);
        const alike = formatNumber(template, one) === formatNumber(template, other);
        expect(alike).toBe(sameSeries && one.n === other.n);
      }),
    );
  });

  it('counts anew where the template bears a year, month or initials', () => {
    const values = { year: 2024, month: 3, initials: 'ak' };
    expect(numberScope('{n}', values)).toBe('');
    expect(numberScope('{n}-{year}', values)).toBe('2024');
    expect(numberScope('{yy}{month}-{n}', values)).toBe('24/03');
    expect(numberScope('{initials} {n}', values)).toBe('AK');
  });
});

describe('numbers of materials', () => {
  it('stand under the number of the bird', () => {
    expect(materialNumber('B-000123', 'T1')).toBe('B-000123-T1');
    expect(splitMaterialNumber('B-000123-t1')).toEqual({ birdNumber: 'B-000123', suffix: 'T1' });
    expect(splitMaterialNumber('B-000123')).toBeNull();
    expect(splitMaterialNumber('SB-2024-0007')).toBeNull();
  });
});
