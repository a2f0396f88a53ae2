import { describe, expect, it } from 'vitest';
import { facetTerm, hasTerm, toggleTerm } from '@/lib/catalogue/query/edit';
import { parseQuery } from '@/lib/catalogue/query/parse';
import { DEFAULT_TEMPLATES } from '@/lib/platform/numbers';

const read = (text: string) =>
  parseQuery(text, { numberTemplates: Object.values(DEFAULT_TEMPLATES), hemisphere: 'north' });

describe('narrowing by a facet', () => {
  it.each([
    ['', 'sex:male', 'sex:male'],
    ['robin', 'sex:male', 'robin sex:male'],
    ['robin sex:male 2024', 'sex:male', 'robin 2024'],
    ['sex:male', 'sex:male', ''],
    ['robin or wren', 'sex:male', '(robin or wren) sex:male'],
    ['(robin or wren) sex:male', 'sex:male', '(robin or wren)'],
    ['robin -sex:male', 'sex:male', 'robin -sex:male sex:male'],
    ['(robin sex:male)', 'sex:male', '(robin sex:male) sex:male'],
    ['sex:male,female', 'sex:male', 'sex:male,female sex:male'],
  ])('“%s” with or without %s is “%s”', (text, term, expected) => {
    expect(toggleTerm(text, term)).toBe(expected);
  });

  it.each([
    ['county', 'San Juan', 'county:"San Juan"'],
    ['preparator', 'Rosa "Rosie" Okafor', 'preparator:"Rosa \\"Rosie\\" Okafor"'],
    ['family', 'Turdidae', 'taxon:Turdidae'],
    ['month', '4', 'month:4'],
  ] as const)('%s %s is written %s, read back and found again', (facet, value, written) => {
    const term = facetTerm(facet, value);
    expect(term).toBe(written);
    expect(read(term).problems).toEqual([]);
    expect(hasTerm(toggleTerm('robin', term), term)).toBe(true);
    expect(toggleTerm(toggleTerm('robin', term), term)).toBe('robin');
  });
});
