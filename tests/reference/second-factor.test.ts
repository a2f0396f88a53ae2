import { describe, expect, it } from 'vitest';
import { base32, codeOf, enrolmentAddress, matchingStep, stepOf } from '@/lib/platform/identity/totp';

const ascii = (text: string) => new TextEncoder().encode(text);
const SEED = '12345678901234567890';

describe('one-time passwords', () => {
  // Source: RFC 4226, appendix D, table of HOTP values for the secret "12345678901234567890".
  it.each(
    ['755224', '287082', '359152', '969429', '338314', '254676', '287922', '162583', '399871', '520489'].map(
      (code, count) => [count, code] as const,
    ),
  )('RFC 4226: counter %i gives %s', (count, code) => {
    expect(codeOf(ascii(SEED), count)).toBe(code);
  });

  // Source: RFC 6238, appendix B, table 1; the seeds are repeated to the length of each hash (erratum 2866).
  const SEEDS: Record<string, string> = {
    sha1: SEED,
    sha256: SEED.repeat(2).slice(0, 32),
    sha512: SEED.repeat(4).slice(0, 64),
  };
  it.each([
    [59, 'sha1', '94287082'],
    [59, 'sha256', '46119246'],
    [59, 'sha512', '90693936'],
    [1111111109, 'sha1', '07081804'],
    [1111111109, 'sha256', '68084774'],
    [1111111109, 'sha512', '25091201'],
    [1111111111, 'sha1', '14050471'],
    [1111111111, 'sha256', '67062674'],
    [1111111111, 'sha512', '99943326'],
    [1234567890, 'sha1', '89005924'],
    [1234567890, 'sha256', '91819424'],
    [1234567890, 'sha512', '93441116'],
    [2000000000, 'sha1', '69279037'],
    [2000000000, 'sha256', '90698825'],
    [2000000000, 'sha512', '38618901'],
    [20000000000, 'sha1', '65353130'],
    [20000000000, 'sha256', '77737706'],
    [20000000000, 'sha512', '47863826'],
  ])('RFC 6238: at %i by %s: %s', (seconds, hash, code) => {
    expect(codeOf(ascii(SEEDS[hash] ?? ''), stepOf(new Date(seconds * 1000)), 8, hash)).toBe(code);
  });

  // Source: RFC 4648, section 10 (padding left out, as apps take it).
  it.each([
    ['', ''],
    ['f', 'MY'],
    ['fo', 'MZXQ'],
    ['foo', 'MZXW6'],
    ['foob', 'MZXW6YQ'],
    ['fooba', 'MZXW6YTB'],
    ['foobar', 'MZXW6YTBOI'],
  ])('RFC 4648: "%s" in base32 is "%s"', (text, encoded) => {
    expect(base32(ascii(text))).toBe(encoded);
  });
});

describe('a code near its time', () => {
  const at = new Date('2026-03-14T10:00:10Z');
  const secret = ascii(SEED);
  it.each([
    [-2, false],
    [-1, true],
    [0, true],
    [1, true],
    [2, false],
  ])('of %i steps away: taken %s', (away, taken) => {
    const step = stepOf(at) + away;
    expect(matchingStep(secret, codeOf(secret, step), at)).toBe(taken ? step : null);
  });

  it.each(['', '12345', '1234567', 'abcdef', '１２３４５６'])('"%s" is none', (code) => {
    expect(matchingStep(secret, code, at)).toBeNull();
  });

  it('the address for the QR code carries the key, who it is for, and how codes are made', () => {
    const address = new URL(enrolmentAddress('a+b@test.example', secret));
    expect(address.protocol).toBe('otpauth:');
    expect(decodeURIComponent(address.pathname)).toContain('Furcula:a+b@test.example');
    expect(Object.fromEntries(address.searchParams)).toEqual({
      secret: base32(secret),
      issuer: 'Furcula',
      algorithm: 'SHA1',
      digits: '6',
      period: '30',
    });
  });
});
