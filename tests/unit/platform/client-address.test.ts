import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { clientAddress } from '@/lib/platform/client-address';

describe('the address that limits count by', () => {
  test.each([
    ['nothing was said', null, 1, 'local'],
    ['nothing but commas', ' , ,', 1, 'local'],
    ['the server itself said it', '192.0.2.7', 1, '192.0.2.7'],
    ['one proxy added to what a client wrote', '203.0.113.9, 192.0.2.7', 1, '192.0.2.7'],
    ['two proxies, and nothing from the client', '192.0.2.7, 198.51.100.1', 2, '192.0.2.7'],
    ['two proxies, and something from the client', '203.0.113.9,192.0.2.7 , 198.51.100.1', 2, '192.0.2.7'],
    ['fewer entries than proxies', '192.0.2.7', 3, '192.0.2.7'],
  ])('%s', (_, forwarded, proxies, expected) => {
    expect(clientAddress(forwarded, proxies)).toBe(expected);
  });

  test('whatever a client writes before it, the address that the proxies added counts', () => {
    fc.assert(
      fc.property(fc.string(), fc.ipV4(), fc.integer({ min: 1, max: 4 }), (written, address, proxies) => {
        const inner = Array.from({ length: proxies - 1 }, (_, at) => `198.51.100.${at}`);
        expect(clientAddress([written, address, ...inner].join(','), proxies)).toBe(address);
      }),
    );
  });
});
