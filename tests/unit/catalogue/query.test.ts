import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { readField } from '@/lib/catalogue/query/fields';
import { parseQuery } from '@/lib/catalogue/query/parse';
import { printQuery, searchFromParams, searchToParams } from '@/lib/catalogue/query/print';
import { querySchema } from '@/lib/catalogue/query/schema';
import type { QueryContext } from '@/lib/catalogue/query/words';
import { DEFAULT_TEMPLATES } from '@/lib/platform/numbers';
import { query } from './arbitrary';

const north: QueryContext = { numberTemplates: Object.values(DEFAULT_TEMPLATES), hemisphere: 'north' };
const south: QueryContext = { ...north, hemisphere: 'south' };
const read = (text: string, context = north) => parseQuery(text, context);
const printed = (text: string, context = north) => printQuery(read(text, context).query);

describe('one box: what plain words mean', () => {
  it.each([
    ['', ''],
    ['Turdus migratorius', '"Turdus migratorius"'],
    ['2024-03', 'found:2024-03'],
    ['2024-03-05', 'found:2024-03-05'],
    ['2024-02-28..2024-03-02', 'found:2024-02-28..2024-03-02'],
    ['2020..2022', 'found:2020-01-01..2022-12-31'],
    ['2020 to 2022', 'found:2020-01-01..2022-12-31'],
    ['spring 2023', 'found:2023-03-01..2023-05-31'],
    ['Fall 2023', 'found:2023-09-01..2023-11-30'],
    ['winter 2023', 'found:2023-12-01..2024-02-29'],
    ['summer', 'month:6..8'],
    ['March 2024', 'found:2024-03'],
    ['5 March 2024', 'found:2024-03-05'],
    ['March 5, 2024', 'found:2024-03-05'],
    ['31 April 2024', 'number:31 found:2024-04'],
    ['March to May', 'month:3..5'],
    ['Nov to Feb', 'month:1,2,11,12'],
    ['sb-2024-7', 'number:SB-2024-0007'],
    ['ak 12', 'number:"AK 12"'],
    ['B-000123', 'number:B-000123'],
    ['2024', 'found:2024 or number:2024'],
    ['17', 'number:17'],
    ['females', 'sex:female'],
    ['♂ skins', 'sex:male material:skin'],
    ['robin window strike', '"robin window strike"'],
    ['robin females March to May', '"robin" sex:female month:3..5'],
  ])('“%s” is %s', (text, expected) => {
    expect(printed(text)).toBe(expected);
    expect(read(text).problems).toEqual([]);
  });

  it('turns the seasons round in the southern half of the Earth', () => {
    expect(printed('spring 2023', south)).toBe('found:2023-09-01..2023-11-30');
    expect(printed('summer 2023', south)).toBe('found:2023-12-01..2024-02-29');
  });
});

describe('fields, and, or, not', () => {
  it.each([
    ['sex:female OR sex:male', 'sex:female or sex:male'],
    ['taxon:Turdus -sex:male', 'taxon:Turdus -sex:male'],
    ['taxon:Turdus not (sex:male or material:skin)', 'taxon:Turdus -(sex:male or material:skin)'],
    ['(a or b) and c', '("a" or "b") "c"'],
    ['a or b c', '"a" or "b c"'],
    ['not not sex:male', 'sex:male'],
    ['material:skin,skeleton', 'material:skin,skeleton'],
    ['county:"San Juan",Skagit', 'county:"San Juan",Skagit'],
    ['catalogued:2024-03..', 'catalogued:2024-03-01..'],
    ['month:nov..feb', 'month:1,2,11,12'],
    ['quality:2..4', 'quality:2..4'],
    ['bones:Radius+ulna/whole/right', 'bones:radius+ulna/right/whole'],
    ['within:40.10..40.2/-82.7..-82.6', 'within:40.1..40.2/-82.7..-82.6'],
    ['"say \\"wing\\""', '"say \\"wing\\""'],
  ])('“%s” is %s', (text, expected) => {
    expect(read(text).problems).toEqual([]);
    expect(printed(text)).toBe(expected);
  });

  it('asks in one query for right wings with whole radius and ulna of a genus, females, March to May', () => {
    const { query, problems } = read(
      'material:wing bones:radius+ulna/right/whole taxon:Turdus females March to May',
    );
    expect(problems).toEqual([]);
    expect(query).toEqual({
      kind: 'and',
      of: [
        { kind: 'term', field: 'material', values: ['wing'] },
        { kind: 'term', field: 'bones', elements: ['radius', 'ulna'], side: 'right', state: 'whole' },
        { kind: 'term', field: 'taxon', values: ['Turdus'] },
        { kind: 'term', field: 'sex', values: ['female'] },
        { kind: 'term', field: 'month', months: [3, 4, 5] },
      ],
    });
  });
});

describe('what is not understood is told, with its place', () => {
  it.each([
    ['color:red', 0, /no field “color”/],
    ['robin sex:both', 6, /none of female, male/],
    ['found:2024-13', 0, /not a date/],
    ['found:2024-05..2024-03', 0, /not a date/],
    ['month:13', 0, /not a month/],
    ['quality:5', 0, /1 to 4/],
    ['bones:radius/up', 0, /side/],
    ['within:40.2..40.1/-82.7..-82.6', 0, /like 40\.1/],
    ['within:40..91/-82..-81', 0, /like 40\.1/],
    ['within:here', 0, /like 40\.1/],
    ['bones:radius/left/right', 0, /side/],
    ['(robin', 0, /not closed/],
    ['robin)', 5, /not opened/],
    ['"robin', 0, /quotation mark/],
    ['robin or', 6, /empty/],
    ['robin not', 6, /Nothing follows/],
  ])('“%s”', (text, at, message) => {
    const [problem] = read(text).problems;
    expect(problem?.at).toBe(at);
    expect(problem?.message).toMatch(message);
  });

  it('keeps the rest of the query', () => {
    expect(printed('robin color:red sex:male')).toBe('"robin" sex:male');
    expect(printed('robin)')).toBe('"robin"');
  });

  it('reads names of object properties as fields that do not exist', () => {
    expect(readField('constructor', ['x'])).toMatch(/no field/);
    expect(printed('constructor toString')).toBe('"constructor toString"');
  });

  it('never throws and always gives a filter of the right shape, whatever the text', () => {
    const piece = fc.oneof(
      fc.string({ maxLength: 12 }),
      fc.constantFrom(
        '(',
        ')',
        '"',
        '-',
        ' or ',
        ' not ',
        ' and ',
        'sex:',
        'found:',
        '2024',
        '..',
        ',',
        '\\',
        'bones:a/',
        ' ',
      ),
    );
    fc.assert(
      fc.property(fc.array(piece, { maxLength: 20 }), (pieces) => {
        const { query, problems } = read(pieces.join(''));
        if (query !== null) expect(querySchema.parse(query)).toEqual(query);
        for (const problem of problems) expect(problem.message).not.toBe('');
      }),
      { numRuns: 500 },
    );
  });

  it('is not brought down by a thousand brackets', () => {
    expect(read('('.repeat(1000)).problems.some((problem) => /Too many/.test(problem.message))).toBe(true);
    expect(read('not '.repeat(500)).query).toBeNull();
    expect(read('a'.repeat(5000)).problems[0]?.message).toMatch(/Too long/);
  });
});

describe('the filter and its text say the same', () => {
  it('reads back every filter it prints', () => {
    fc.assert(
      fc.property(query, (filter) => {
        const text = printQuery(filter);
        fc.pre(text.length <= 2000);
        expect(parseQuery(text, north)).toEqual({ query: filter, problems: [] });
      }),
      { numRuns: 1000 },
    );
  });

  it('lives in the address bar with sort, columns and view', () => {
    fc.assert(
      fc.property(
        query.map(printQuery).filter((text) => text.length <= 2000),
        fc.option(fc.constantFrom('number', '-foundOn'), { nil: undefined }),
        fc.constantFrom('table' as const, 'map' as const, 'charts' as const),
        (q, sort, view) => {
          const state = { q, sort, columns: ['number', 'taxon'], view };
          const address = new URLSearchParams(searchToParams(state).toString());
          expect(searchFromParams(address)).toEqual(state);
        },
      ),
    );
    expect(searchToParams({ q: '', view: 'table' }).toString()).toBe('');
  });

  it('falls back to the defaults where an address is wrong', () => {
    const wrong = new URLSearchParams({ sort: '1;drop', view: 'spiral', columns: 'ok,not ok' });
    expect(searchFromParams(wrong)).toEqual({ q: '', view: 'table', sort: undefined, columns: undefined });
  });
});
