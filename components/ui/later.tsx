'use client';

import {
  type ComponentType,
  type ReactNode,
  type RefObject,
  useEffect,
  useRef,
  useSyncExternalStore,
} from 'react';
import { say } from '@/lib/platform/words/say';
import { ErrorState } from './error-state';
import { Loading } from './loading';

type Load<Props> = () => Promise<ComponentType<Props>>;
/** What was fetched, or why not; null until either is known. */
type Fetched<Code> = { code: Code } | { error: unknown } | null;
/** A part that comes later: drawn like any component. `prepare` loads it ahead of being drawn. */
export type LaterPart<Props> = ComponentType<Props> & { prepare: () => void };
type Until = (place: RefObject<HTMLElement | null>, come: () => void) => (() => void) | undefined;

/** How far below the window a part is loaded: somebody who scrolls finds it there. */
const NEAR = '800px 0px';
const IDLE_MS = 2000;

/**
 * A part below what is seen at once. Its code is loaded when its place comes near the window, when the browser has
 * nothing else to do, or before the page is printed, whichever is first; until then it is `lines` of `Loading`, as
 * while its data are fetched. The server draws the waiting lines: not for what is seen at once.
 */
export const whenSeen = <Props extends object>(load: Load<Props>, lines = 4): LaterPart<Props> =>
  later(load, untilNear, () => <Loading lines={lines} />);

/**
 * A part that appears after a press: its code is loaded when it is first drawn. `prepare` goes on what leads to it
 * (onPointerEnter, onFocus), so that the press finds it there. `waiting`: lines, or what stands there meanwhile.
 */
export const whenOpened = <Props extends object>(
  load: Load<Props>,
  waiting: number | (() => ReactNode) = 4,
): LaterPart<Props> =>
  later(load, atOnce, typeof waiting === 'number' ? () => <Loading lines={waiting} /> : waiting);

/** Code that a page can be drawn without and needs for what is typed in it. */
export type LaterCode<Code> = {
  /** In a component: the code, or null until it is there. Asks for it once the browser has nothing else to do. */
  useNow: () => Code | null;
  now: () => Code | null;
  /** Asks for it at once. Rejects when it cannot be fetched; asked again, it is fetched again. */
  come: () => Promise<Code>;
};

/**
 * The code that reads or judges what is typed. The page is drawn from what the server sends; who types earlier than this
 * comes loses nothing: what was entered waits for it (components/bench/dictation-line.tsx, use-draft.ts).
 */
export function whenNeeded<Code>(load: () => Promise<Code>): LaterCode<Code> {
  const held = fetchOnce(load);
  const codeOf = (fetched: Fetched<Code>) => (fetched !== null && 'code' in fetched ? fetched.code : null);
  const now = () => codeOf(held.now());
  return {
    useNow: function useNow() {
      const fetched = useSyncExternalStore(held.listen, held.now, () => null);
      useEffect(() => whenIdle(() => void held.come()), []);
      return codeOf(fetched);
    },
    now,
    come: async () => {
      const fetched = await held.come();
      const code = codeOf(fetched);
      if (code === null)
        throw fetched !== null && 'error' in fetched ? fetched.error : new Error('not fetched');
      return code;
    },
  };
}

function fetchOnce<Code>(load: () => Promise<Code>) {
  let fetched: Fetched<Code> = null;
  let coming: Promise<Fetched<Code>> | null = null;
  const listeners = new Set<() => void>();
  const become = (next: Fetched<Code>) => {
    fetched = next;
    coming = null;
    for (const listener of listeners) listener();
    return next;
  };
  return {
    now: () => fetched,
    listen: (listener: () => void) => {
      listeners.add(listener);
      return () => listeners.delete(listener);
    },
    /** Never rejects: why it failed is in the answer. */
    come: (): Promise<Fetched<Code>> => {
      if (fetched !== null && 'code' in fetched) return Promise.resolve(fetched);
      coming ??= load().then(
        (code) => become({ code }),
        (error: unknown) => become({ error }),
      );
      return coming;
    },
  };
}

function later<Props extends object>(load: Load<Props>, until: Until, waiting: () => ReactNode) {
  const held = fetchOnce(load);
  const come = () => void held.come();
  // biome-ignore lint/correctness/noComponentHookFactories: made once, when the module is loaded
  function Later(props: Props) {
    const now = useSyncExternalStore(held.listen, held.now, () => null);
    const place = useRef<HTMLDivElement>(null);
    useEffect(() => until(place, come), []);
    if (now === null) return <div ref={place}>{waiting()}</div>;
    if ('code' in now) return <now.code {...props} />;
    return (
      <ErrorState
        what={say('This part of the page could not be loaded.')}
        todo={say('Try again when there is a connection, or load the page anew.')}
        onRetry={come}
      />
    );
  }
  return Object.assign(Later, {
    prepare: () => {
      if (held.now() === null) come();
    },
  });
}

const atOnce: Until = (_, come) => {
  come();
  return undefined;
};

const untilNear: Until = (place, come) => {
  const sight = new IntersectionObserver(
    (entries) => {
      if (entries.some(({ isIntersecting }) => isIntersecting)) come();
    },
    { rootMargin: NEAR },
  );
  if (place.current !== null) sight.observe(place.current);
  const cancel = whenIdle(come);
  window.addEventListener('beforeprint', come);
  return () => {
    sight.disconnect();
    cancel();
    window.removeEventListener('beforeprint', come);
  };
};

/** Calls once the browser has nothing else to do; the answer calls it off. Safari cannot say when that is. */
export function whenIdle(act: () => void): () => void {
  if (typeof window.requestIdleCallback !== 'function') {
    const timer = window.setTimeout(act, IDLE_MS);
    return () => window.clearTimeout(timer);
  }
  const asked = window.requestIdleCallback(act, { timeout: 2 * IDLE_MS });
  return () => window.cancelIdleCallback(asked);
}
