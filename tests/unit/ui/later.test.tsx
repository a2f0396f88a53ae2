// @vitest-environment jsdom

import { act, fireEvent, screen } from '@testing-library/react';
import { renderToString } from 'react-dom/server';
import { beforeEach, describe, expect, test, vi } from 'vitest';
import { type LaterCode, whenNeeded, whenOpened, whenSeen } from '@/components/ui/later';
import { show } from './render';

/** What the browser tells of a place that came near the window. */
let seen: ((entries: { isIntersecting: boolean }[]) => void)[] = [];
/** What waits until the browser has nothing else to do. */
let idle: (() => void)[] = [];

beforeEach(() => {
  seen = [];
  idle = [];
  vi.stubGlobal(
    'IntersectionObserver',
    class {
      constructor(tell: (entries: { isIntersecting: boolean }[]) => void) {
        seen.push(tell);
      }
      observe() {}
      disconnect() {}
    },
  );
  vi.stubGlobal('requestIdleCallback', (call: () => void) => idle.push(call));
  vi.stubGlobal('cancelIdleCallback', () => undefined);
});

const Part = ({ word }: { word: string }) => <p>{word}</p>;
const loading = () => vi.fn(async () => Part);
/** Lets what was asked for arrive. */
const arrive = () => act(async () => undefined);

describe('a part below what is seen at once', () => {
  test('waits until its place is near the window', async () => {
    const load = loading();
    const Later = whenSeen(load);
    show(<Later word="the bone book" />);
    await act(async () => seen[0]?.([{ isIntersecting: false }]));
    expect(load).not.toHaveBeenCalled();
    expect(screen.getByRole('status')).toBeTruthy();
    await act(async () => seen[0]?.([{ isIntersecting: true }]));
    expect(screen.getByText('the bone book')).toBeTruthy();
    expect(screen.queryByRole('status')).toBeNull();
  });

  test.each([
    ['when the browser has nothing else to do', () => idle[0]?.()],
    ['before the page is printed', () => fireEvent(window, new Event('beforeprint'))],
  ])('comes %s', async (_, happen) => {
    const Later = whenSeen(loading());
    show(<Later word="the history" />);
    expect(screen.queryByText('the history')).toBeNull();
    await act(async () => happen());
    expect(screen.getByText('the history')).toBeTruthy();
  });

  test('is fetched once for all its places, and is there at once on the next page', async () => {
    const load = loading();
    const Later = whenSeen(load);
    const first = show(
      <>
        <Later word="one" />
        <Later word="two" />
      </>,
    );
    await act(async () => idle.forEach((call) => void call()));
    expect(screen.getByText('one')).toBeTruthy();
    expect(screen.getByText('two')).toBeTruthy();
    first.unmount();
    show(<Later word="three" />);
    expect(screen.getByText('three')).toBeTruthy();
    expect(load).toHaveBeenCalledTimes(1);
  });

  test('is waiting lines on the server, whatever was loaded before', async () => {
    const Later = whenSeen(loading());
    Later.prepare();
    await arrive();
    expect(renderToString(<Later word="drawn too early" />)).not.toContain('drawn too early');
  });
});

describe('a part behind a press', () => {
  test('is fetched when it is drawn, or ahead of it', async () => {
    const load = loading();
    const Later = whenOpened(load);
    Later.prepare();
    Later.prepare();
    await arrive();
    expect(load).toHaveBeenCalledTimes(1);
    show(<Later word="the form" />);
    expect(screen.getByText('the form')).toBeTruthy();
    expect(load).toHaveBeenCalledTimes(1);
  });

  test('has its own picture while it comes, where one is given', async () => {
    const Later = whenOpened(loading(), () => <button type="button">Columns</button>);
    show(<Later word="the columns" />);
    expect(screen.getByRole('button', { name: 'Columns' })).toBeTruthy();
    await arrive();
    expect(screen.getByText('the columns')).toBeTruthy();
  });

  test('that cannot be fetched says so, and can be tried again', async () => {
    const load = vi
      .fn<() => Promise<typeof Part>>()
      .mockRejectedValueOnce(new Error('no connection'))
      .mockResolvedValue(Part);
    const Later = whenOpened(load);
    show(<Later word="the form" />);
    await arrive();
    expect(screen.getByRole('alert').textContent).toContain('This part of the page could not be loaded.');
    fireEvent.click(screen.getByRole('button', { name: 'Try again' }));
    await arrive();
    expect(screen.getByText('the form')).toBeTruthy();
    expect(screen.queryByRole('alert')).toBeNull();
  });
});

const read = (text: string) => text.toUpperCase();
const Box = ({ code }: { code: LaterCode<typeof read> }) => <p>{code.useNow()?.('said') ?? 'waits'}</p>;

describe('code that what is typed needs', () => {
  test('is drawn without, on the server and at first, and comes when the browser has nothing else to do', async () => {
    const load = vi.fn(async () => read);
    const code = whenNeeded(load);
    expect(renderToString(<Box code={code} />)).toContain('waits');
    show(<Box code={code} />);
    expect(screen.getByText('waits')).toBeTruthy();
    expect(code.now()).toBeNull();
    await act(async () => idle[0]?.());
    expect(screen.getByText('SAID')).toBeTruthy();
    expect(code.now()).toBe(read);
  });

  test('is fetched once, whoever asks first, and is at hand for who comes after', async () => {
    const load = vi.fn(async () => read);
    const code = whenNeeded(load);
    expect(await Promise.all([code.come(), code.come()])).toEqual([read, read]);
    show(<Box code={code} />);
    expect(screen.getByText('SAID')).toBeTruthy();
    expect(load).toHaveBeenCalledTimes(1);
  });

  test('that cannot be fetched says so to who asks, and can be asked for again', async () => {
    const load = vi
      .fn<() => Promise<typeof read>>()
      .mockRejectedValueOnce(new Error('no connection'))
      .mockResolvedValue(read);
    const code = whenNeeded(load);
    show(<Box code={code} />);
    await act(async () => expect(await code.come().catch((error) => error.message)).toBe('no connection'));
    expect(screen.getByText('waits')).toBeTruthy();
    await act(async () => expect(await code.come()).toBe(read));
    expect(screen.getByText('SAID')).toBeTruthy();
  });
});
