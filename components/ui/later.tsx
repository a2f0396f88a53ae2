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
type State<Props> = { Part: ComponentType<Props> } | { error: unknown } | null;
/** A part that comes later: drawn like any component. `prepare` loads it ahead of being drawn. */
export type LaterPart<Props> = ComponentType<Props> & { prepare: () => void };
type Until = (place: RefObject<HTMLElement | null>, come: () => void) => (() => void) | undefined;

/** How far below the window a part is loaded: somebody who scrolls finds it there. */
const NEAR = '800px 0px';
const IDLE_MS = 2000;

/**
 * A part below what is seen at once. Its code is loaded when its place comes near the window, when the browser has
 * nothing else to do, or before the page is printed, whichever is first; until then it is `lines` of `Loading`, as
 * while its data are fetched. Only for what asks for its data in the browser: the server draws the waiting lines.
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

function later<Props extends object>(load: Load<Props>, until: Until, waiting: () => ReactNode) {
  let state: State<Props> = null;
  let isComing = false;
  const listeners = new Set<() => void>();
  const become = (next: State<Props>) => {
    state = next;
    for (const listener of listeners) listener();
  };
  const listen = (listener: () => void) => {
    listeners.add(listener);
    return () => listeners.delete(listener);
  };
  const come = () => {
    if (isComing || (state !== null && 'Part' in state)) return;
    isComing = true;
    load()
      .then(
        (Part) => become({ Part }),
        (error: unknown) => become({ error }),
      )
      .finally(() => {
        isComing = false;
      });
  };
  // biome-ignore lint/correctness/noComponentHookFactories: made once, when the module is loaded
  function Later(props: Props) {
    const now = useSyncExternalStore(
      listen,
      () => state,
      () => null,
    );
    const place = useRef<HTMLDivElement>(null);
    useEffect(() => until(place, come), []);
    if (now === null) return <div ref={place}>{waiting()}</div>;
    if ('Part' in now) return <now.Part {...props} />;
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
      if (state === null) come();
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
