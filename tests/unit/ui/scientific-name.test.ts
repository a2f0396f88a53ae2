import { describe, expect, test } from 'vitest';
import { splitScientificName } from '@/components/ui/scientific-name';

/** Italics in asterisks. */
const marked = (name: string): string =>
  splitScientificName(name)
    .map((part) => (part.italic ? `*${part.text}*` : part.text))
    .join(' ');

// Italics for genus and below: common practice in the literature of the field, no single source.
describe('splitScientificName', () => {
  test.each([
    ['Erithacus rubecula', '*Erithacus rubecula*'],
    ['Catharus guttatus faxoni', '*Catharus guttatus faxoni*'],
    ['Larus sp.', '*Larus* sp.'],
    ['Empidonax cf. minimus', '*Empidonax* cf. *minimus*'],
    ['Anas platyrhynchos × Anas rubripes', '*Anas platyrhynchos* × *Anas rubripes*'],
    ['Anas platyrhynchos × rubripes', '*Anas platyrhynchos* × *rubripes*'],
    ['Larus argentatus subsp. smithsonianus', '*Larus argentatus* subsp. *smithsonianus*'],
    ['Turdus migratorius Linnaeus, 1766', '*Turdus migratorius* Linnaeus, 1766'],
    ['Setophaga (Dendroica) coronata', '*Setophaga (Dendroica) coronata*'],
    ['Setophaga coronata (Linnaeus, 1766)', '*Setophaga coronata* (Linnaeus, 1766)'],
    ['Corvus', '*Corvus*'],
    ['Parulidae', 'Parulidae'],
    ['Passeriformes', 'Passeriformes'],
    ['Anatinae', 'Anatinae'],
    ['', ''],
  ])('%s', (name, expected) => expect(marked(name)).toBe(expected));

  test('no word is lost or moved', () => {
    const name = 'Larus cf. argentatus × L. glaucescens von Muster, 1901';
    expect(
      splitScientificName(name)
        .map((part) => part.text)
        .join(' '),
    ).toBe(name);
  });
});
