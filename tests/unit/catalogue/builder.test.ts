import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import {
  addNode,
  builderOf,
  builderText,
  type Condition,
  changeNode,
  type Group,
  printBones,
  queryOf,
  ROOT,
  readBones,
  readCondition,
  removeNode,
} from '@/lib/catalogue/query/builder';
import { QUERY_FIELDS } from '@/lib/catalogue/query/fields';
import { parseQuery } from '@/lib/catalogue/query/parse';
import { printQuery } from '@/lib/catalogue/query/print';
import { phrase, query } from './arbitrary';

const read = (text: string) =>
  parseQuery(text, { numberTemplates: ['SB-{year}-{n:4}'], hemisphere: 'north' });

describe('box to builder and back', () => {
  it('shows every filter and gives it back the same', () => {
    fc.assert(
      fc.property(query, (filter) => {
        expect(queryOf(builderOf(filter))).toEqual(filter);
      }),
      { numRuns: 1000 },
    );
  });

  /** Whatever people click together: empty groups, groups in groups of the same kind, half-written lines. */
  const clicked = fc.letrec<{ node: Group['of'][number] }>((tie) => ({
    node: fc.oneof(
      { maxDepth: 3 },
      fc.record({
        kind: fc.constant('condition' as const),
        id: fc.nat(),
        not: fc.boolean(),
        field: fc.constantFrom(...QUERY_FIELDS),
        values: fc.array(
          fc.oneof(phrase, fc.constantFrom('', ' ', '3', '1..2', '2024..', 'male', 'radius/right')),
          { maxLength: 3 },
        ),
      }),
      fc.record({
        kind: fc.constant('group' as const),
        id: fc.nat(),
        not: fc.boolean(),
        join: fc.constantFrom('and' as const, 'or' as const),
        of: fc.array(tie('node'), { maxLength: 3 }),
      }),
    ),
  })).node;

  it('writes only what the box reads as the same filter', () => {
    fc.assert(
      fc.property(fc.array(clicked, { maxLength: 3 }), fc.constantFrom('and', 'or'), (of, join) => {
        const root: Group = { kind: 'group', id: ROOT, not: false, join, of };
        const text = builderText(root);
        fc.pre(text.length <= 2000);
        expect(read(text)).toEqual({ query: queryOf(root), problems: [] });
      }),
      { numRuns: 1000 },
    );
  });

  it.each([
    ['', 'and', 0],
    ['sex:male', 'and', 1],
    ['-sex:male', 'and', 1],
    ['sex:male or stage:queued', 'or', 2],
    ['(sex:male or sex:female) county:Franklin', 'and', 2],
    ['not (sex:male or stage:queued)', 'and', 1],
  ])('“%s” is a group by “%s” of %i parts', (text, join, parts) => {
    const root = builderOf(read(text).query);
    expect([root.join, root.of.length]).toEqual([join, parts]);
    expect(builderText(root)).toBe(printQuery(read(text).query));
  });
});

describe('what one does in it', () => {
  it('adds, changes and takes away at any depth, each part under a number of its own', () => {
    const start = builderOf(read('county:Franklin').query);
    const { root: grouped, added } = addNode(start, ROOT, { kind: 'group', join: 'or' });
    const group = grouped.of.find(({ id }) => id === added) as Group;
    const [first] = group.of;
    if (first?.kind !== 'condition') throw new Error('A new group begins with a condition.');
    const filled = changeNode(grouped, first, { field: 'sex', values: ['male'] });
    const { root: two, added: second } = addNode(filled, added, { kind: 'condition', field: 'stage' });
    const ids = [ROOT, ...two.of.map(({ id }) => id), first.id, second];
    expect(new Set(ids).size).toBe(ids.length);
    expect(builderText(two)).toBe('county:Franklin sex:male');
    const line: Condition = { kind: 'condition', id: second, not: false, field: 'stage', values: [] };
    const whole = changeNode(two, line, { values: ['queued'], not: true });
    expect(builderText(whole)).toBe('county:Franklin (sex:male or -stage:queued)');
    const inGroup = whole.of.find(({ id }) => id === added) as Group;
    expect(builderText(changeNode(whole, inGroup, { not: true }))).toBe(
      'county:Franklin -(sex:male or -stage:queued)',
    );
    expect(builderText(changeNode(whole, whole, { join: 'or' }))).toBe(
      'county:Franklin or sex:male or -stage:queued',
    );
    expect(builderText(removeNode(whole, added))).toBe('county:Franklin');
  });

  it.each([
    ['taxon', [], null],
    ['taxon', [' '], null],
    ['sex', ['neither'], '“neither” is none of female, male, undetermined.'],
    ['quality', ['3..1'], 'A quality is 1 to 4, or two with “..”.'],
    ['bones', ['/right'], 'Bones are written like radius+ulna/right/whole.'],
  ] as const)('%s with %j says %j', (field, values, expected) => {
    expect(readCondition({ kind: 'condition', id: 1, not: false, field, values: [...values] })).toBe(
      expected,
    );
  });

  it.each(['radius+ulna/right/whole', 'radius', 'radius/left', 'rib-1/broken', '/right/whole', ''])(
    'takes bones apart and together again: “%s”',
    (value) => expect(printBones(readBones(value))).toBe(value),
  );
});
