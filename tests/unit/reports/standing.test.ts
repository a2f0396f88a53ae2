import { describe, expect, it } from 'vitest';
import { shippedRulePacks } from '@/lib/permits/packs/load';
import { separateAuthorityOf, specialStandingOf } from '@/lib/reports/standing';

const checked = (...codes: string[]) => ({ result: { reasons: codes.map((code) => ({ code })) } });

describe('what the kept coverage check says of a bird', () => {
  it.each([
    [['in-force', 'eagle'], ['eagle']],
    [
      ['listed', 'listed-agency', 'out-of-place'],
      ['listed', 'out-of-place'],
    ],
    [['taxon-allowed', 'in-place'], []],
  ])('%j gives %j', (codes, standing) => {
    expect(specialStandingOf(checked(...codes))).toEqual(standing);
  });

  it('says nothing of a record that was never checked', () => {
    for (const kept of [null, {}, { result: null }]) expect(specialStandingOf(kept)).toEqual([]);
  });

  it('knows every code by which the shipped packs speak of eagles and listed birds', () => {
    const codes = shippedRulePacks()
      .flatMap(({ rules }) => rules)
      .map(({ says }) => says.code)
      .filter((code) => /eagle|listed/.test(code) && !/unlisted/.test(code));
    expect(codes.length).toBeGreaterThan(3);
    for (const code of codes) expect([code, specialStandingOf(checked(code)).length]).toEqual([code, 1]);
  });
});

describe('what a ruling cites', () => {
  const ruling = { cite: '50 CFR 21.16', reason: 'found by agency staff' };
  it.each([
    ['covered', '50 CFR 21.16: found by agency staff'],
    ['not-covered', null],
  ])('when it says %s', (verdict, cited) => {
    expect(separateAuthorityOf({ verdict, ...ruling })).toBe(cited);
  });
  it('nothing without one', () => expect(separateAuthorityOf(null)).toBeNull());
});
