import { createServer } from 'node:http';
import type { AddressInfo } from 'node:net';
import { afterAll, beforeAll, beforeEach, describe, expect, it, vi } from 'vitest';

type Found = { address: string; family: number }[];
const resolver = vi.hoisted(() => ({ answers: [] as { address: string; family: number }[][], asked: 0 }));
vi.mock('node:dns/promises', () => ({
  lookup: async (): Promise<Found> => resolver.answers[resolver.asked++] ?? [],
}));

import { postOutside } from '@/lib/platform/post-outside';

const hosts: (string | undefined)[] = [];
const receiver = createServer((request, response) => {
  hosts.push(request.headers.host);
  response.end();
});
let port = 0;
beforeAll(async () => {
  await new Promise<void>((resolve) => receiver.listen(0, '127.0.0.1', resolve));
  port = (receiver.address() as AddressInfo).port;
});
afterAll(() => new Promise<void>((resolve) => void receiver.close(() => resolve())));
beforeEach(() => {
  hosts.length = 0;
  resolver.asked = 0;
});

const v4 = (address: string) => ({ address, family: 4 });

describe('posting outside', () => {
  it('connects to the address that was checked, whatever the name says by then', async () => {
    resolver.answers = [[v4('127.0.0.1')], [v4('192.0.2.1')]];
    await postOutside(`http://feed.example:${port}/`, '{}', {}, { development: true });
    expect(hosts).toEqual([`feed.example:${port}`]);
    expect(resolver.asked).toBe(1);
  });

  it.each([
    ['one of its addresses is private', [v4('8.8.8.8'), v4('10.0.0.1')]],
    ['its second address is loopback', [v4('8.8.8.8'), { address: '::1', family: 6 }]],
    ['it is mapped', [{ address: '::ffff:127.0.0.1', family: 6 }]],
  ])('refuses a name when %s', async (_, found) => {
    resolver.answers = [found];
    await expect(postOutside('https://feed.example/', '{}', {}, { development: false })).rejects.toThrow(
      'no address of the open internet',
    );
  });

  it('refuses a name that nobody knows, and http outside of development', async () => {
    resolver.answers = [[]];
    await expect(postOutside('https://feed.example/', '{}', {}, { development: false })).rejects.toThrow(
      'not known',
    );
    await expect(
      postOutside(`http://feed.example:${port}/`, '{}', {}, { development: false }),
    ).rejects.toThrow('https://');
    expect(hosts).toEqual([]);
  });
});
