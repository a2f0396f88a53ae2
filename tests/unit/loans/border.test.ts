import { describe, expect, it } from 'vitest';
import { BORDER_PACK } from '@/lib/loans/border-pack';
import { borderDocuments } from '@/lib/loans/rules';
import type { BorderPack, ParcelFacts } from '@/lib/loans/schema';

const parcel = (change: Partial<ParcelFacts> = {}): ParcelFacts => ({
  fromCountry: 'US',
  toCountry: 'US',
  anyCitesListed: false,
  bothRegisteredWithCites: false,
  anyMigratoryBirdAct: false,
  anyWildBirdOfEu: false,
  anyTissue: false,
  originCountries: ['US'],
  ...change,
});
const ids = (facts: ParcelFacts) => borderDocuments(facts, BORDER_PACK).documents.map((rule) => rule.id);

describe('documents that borders ask for', () => {
  it.each<[string, Partial<ParcelFacts>, string[]]>([
    ['within the country', { anyCitesListed: true, anyMigratoryBirdAct: true, anyTissue: true }, []],
    ['out of the US', { toCountry: 'MX' }, ['us-declaration', 'us-marking']],
    ['into the US', { fromCountry: 'MX', originCountries: ['MX'] }, ['us-declaration', 'us-marking']],
    [
      'listed birds between registered institutions',
      { toCountry: 'MX', anyCitesListed: true, bothRegisteredWithCites: true },
      ['cites-label', 'us-declaration', 'us-marking'],
    ],
    [
      'listed birds to an institution that is not registered',
      { toCountry: 'MX', anyCitesListed: true },
      ['cites-permit', 'us-declaration', 'us-marking'],
    ],
    [
      'migratory birds to Canada',
      { toCountry: 'CA', anyMigratoryBirdAct: true },
      ['us-declaration', 'us-marking', 'us-migratory-birds', 'canada-possession'],
    ],
    [
      'tissue to Germany, of a wild bird of Europe',
      { toCountry: 'DE', anyWildBirdOfEu: true, anyTissue: true },
      ['us-declaration', 'us-marking', 'eu-birds-directive', 'access-terms'],
    ],
    [
      'within the United Kingdom',
      { fromCountry: 'GB', toCountry: 'GB' },
      ['uk-lawful-origin', 'uk-wales-form'],
    ],
    [
      'tissue of a bird found elsewhere',
      { anyTissue: true, originCountries: ['US', 'PE'] },
      ['access-terms'],
    ],
  ])('%s', (_name, change, expected) => {
    expect(ids(parcel(change))).toEqual(expected);
  });

  it('cites a source for every rule and ends its caution with who decides', () => {
    for (const rule of BORDER_PACK.rules) expect(rule.citation).not.toBe('');
    expect(new Set(BORDER_PACK.rules.map((rule) => rule.id)).size).toBe(BORDER_PACK.rules.length);
    expect(borderDocuments(parcel(), BORDER_PACK).caution).toMatch(/local rules decide\.$/);
  });

  it('reads direction from a rule of an institution’s own', () => {
    const own: BorderPack = {
      caution: 'Local rules decide.',
      rules: [
        {
          id: 'own',
          document: 'Entry form',
          detail: '',
          citation: 'House rule',
          verified: true,
          when: { fromAnyOf: ['CH'], toAnyOf: ['US'] },
        },
      ],
    };
    const there = parcel({ fromCountry: 'CH', toCountry: 'US' });
    const back = parcel({ fromCountry: 'US', toCountry: 'CH' });
    expect(borderDocuments(there, own).documents).toHaveLength(1);
    expect(borderDocuments(back, own).documents).toHaveLength(0);
  });
});
