// @vitest-environment jsdom
import { QueryClient, QueryClientProvider } from '@tanstack/react-query';
import { act, cleanup, renderHook } from '@testing-library/react';
import type { ReactNode } from 'react';
import { afterEach, beforeEach, describe, expect, it, vi } from 'vitest';
import { useBoneBook } from '@/components/skeletons/use-bone-book';
import { nameOf, patchBook } from '@/lib/skeletons/rules/entries';
import { defaultSplit } from '@/lib/skeletons/rules/split';
import type { BoneBook } from '@/lib/skeletons/schema';
import { makeBook } from './book';

const full = defaultSplit('whole-skeleton', { wing: 'right', leg: 'right' });
const mine = patchBook(full, 'sternum/unpaired/whole', { place: 'discarded' });

/** A server of one book: takes a save on its version, refuses one on an older version. */
let stored: BoneBook;
let online: boolean;
const requests: { version: number }[] = [];

async function serve(_: string, init?: RequestInit): Promise<Response> {
  const body = JSON.parse(String(init?.body)) as Pick<BoneBook, 'version' | 'entries' | 'explanation'>;
  requests.push(body);
  if (!online) throw new TypeError('no connection');
  if (body.version !== stored.version) {
    const problem = {
      code: 'stale-version',
      title: 'Changed.',
      status: 409,
      fields: [],
      data: { current: stored },
    };
    return Response.json(problem, { status: 409 });
  }
  stored = makeBook(body.entries, { version: stored.version + 1, explanation: body.explanation });
  return Response.json(stored);
}

beforeEach(() => {
  vi.useFakeTimers();
  stored = makeBook(full);
  online = true;
  requests.length = 0;
  localStorage.clear();
  vi.stubGlobal('fetch', vi.fn(serve));
});

afterEach(() => {
  cleanup();
  vi.unstubAllGlobals();
  vi.useRealTimers();
});

const client = new QueryClient();
const wrapper = ({ children }: { children: ReactNode }) => (
  <QueryClientProvider client={client}>{children}</QueryClientProvider>
);
const open = () =>
  renderHook(({ book }: { book: BoneBook }) => useBoneBook(book), {
    wrapper,
    initialProps: { book: stored },
  });
/** In small steps, so that what a step leads to is on screen before the next. */
async function wait(ms: number): Promise<void> {
  for (let passed = 0; passed < ms; passed += 100) await act(() => vi.advanceTimersByTimeAsync(100));
}
const sternum = (book: BoneBook) =>
  book.entries.find((entry) => nameOf(entry) === 'sternum/unpaired/whole')?.place;

describe('a bone book that saves itself', () => {
  it('sends once, a moment after the last change, and says so', async () => {
    const { result } = open();
    expect(result.current.status.kind).toBe('saved');
    act(() => result.current.edit({ entries: patchBook(full, 'femur/left/whole', { place: 'lost' }) }));
    await wait(300);
    act(() => result.current.edit({ entries: mine }));
    expect(result.current.status.kind).toBe('saving');
    await wait(2_000);
    expect(requests).toHaveLength(1);
    expect(sternum(stored)).toBe('discarded');
    expect(result.current.status).toMatchObject({ kind: 'saved', at: expect.any(String) });
    await wait(60_000);
    expect(requests).toHaveLength(1);
  });

  it('keeps changes through a lost connection and sends them when it returns', async () => {
    const { result } = open();
    online = false;
    act(() => result.current.edit({ entries: mine }));
    await wait(1_500);
    expect(result.current.status).toEqual({ kind: 'not-sent', changes: 1 });
    expect(sternum(stored)).toBe('skeleton');
    online = true;
    await wait(10_000);
    expect(sternum(stored)).toBe('discarded');
    expect(result.current.status.kind).toBe('saved');
  });

  it('takes up an unsent change when the page is opened again', async () => {
    const first = open();
    online = false;
    act(() => first.result.current.edit({ entries: mine }));
    await wait(1_500);
    first.unmount();
    await wait(1_500);
    online = true;
    const second = open();
    await wait(2_000);
    expect(sternum(stored)).toBe('discarded');
    expect(second.result.current.status.kind).toBe('saved');
    expect(localStorage.length).toBe(0);
  });

  it('leaves another person’s unsent change alone', async () => {
    const first = open();
    online = false;
    act(() => first.result.current.edit({ entries: mine }));
    await wait(1_500);
    first.unmount();
    await wait(1_500);
    online = true;
    requests.length = 0;
    stored = makeBook(full, { readerId: '01900000-0000-7000-8000-00000000000f' });
    open();
    await wait(10_000);
    expect(requests).toHaveLength(0);
  });

  it('merges with what somebody else saved first, and saves both', async () => {
    const { result } = open();
    stored = makeBook(patchBook(full, 'femur/left/whole', { place: 'lost' }), { version: 5 });
    act(() => result.current.edit({ entries: mine }));
    await wait(5_000);
    expect(requests.map(({ version }) => version)).toEqual([1, 5]);
    expect(stored.version).toBe(6);
    expect(sternum(stored)).toBe('discarded');
    expect(stored.entries.find((entry) => nameOf(entry) === 'femur/left/whole')?.place).toBe('lost');
    expect(result.current.state.takenIn).toBe(1);
  });

  it('waits for a person where both changed one element', async () => {
    const { result } = open();
    stored = makeBook(patchBook(full, 'sternum/unpaired/whole', { place: 'lost' }), { version: 5 });
    act(() => result.current.edit({ entries: mine }));
    await wait(20_000);
    expect(requests).toHaveLength(1);
    expect(result.current.state.conflict?.elements).toHaveLength(1);
    act(() => result.current.settle({ entries: mine, explanation: '' }));
    await wait(5_000);
    expect(sternum(stored)).toBe('discarded');
  });
});
