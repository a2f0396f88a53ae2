import { describe, expect, it } from 'vitest';
import { besideMetric, inOldUnits } from '@/lib/platform/words/inches';

describe('inches and ounces beside the metric figure', () => {
  // NIST SP 811 (2008), appendix B.8: inch 2.54 E-02 m, ounce (avoirdupois) 2.834 952 E-02 kg.
  it.each([
    [25.4, 'mm', '1.00 in'],
    [94, 'mm', '3.70 in'],
    [254, 'mm', '10.0 in'],
    [28.34952, 'g', '1.00 oz'],
    [453.59237, 'g', '16.0 oz'],
  ])('%d %s is %s', (value, unit, old) => {
    expect(inOldUnits(value, unit)).toBe(old);
  });

  it('knows no old unit for others, and shows none where nobody asked for it', () => {
    expect([inOldUnits(3, '%'), inOldUnits(3, null), besideMetric(94, 'mm')]).toEqual([null, null, null]);
  });
});
