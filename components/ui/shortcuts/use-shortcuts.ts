import { useEffect, useRef, useSyncExternalStore } from 'react';
import { useSingleSigns } from './single-signs';
import { type Area, actOf, isSingleSign, type ShortcutIn } from './table';
import { isTyping } from './typing';

/** How often each area is on screen now. */
const shown = new Map<Area, number>();
const listeners = new Set<() => void>();
let snapshot: readonly Area[] = [];

function count(area: Area, step: 1 | -1) {
  shown.set(area, (shown.get(area) ?? 0) + step);
  snapshot = [...shown].flatMap(([one, times]) => (times > 0 ? [one] : []));
  for (const listener of listeners) listener();
}

const NONE: readonly Area[] = [];
const listen = (listener: () => void) => {
  listeners.add(listener);
  return () => listeners.delete(listener);
};

/** The areas whose keys work on this page now. */
export const useShownAreas = (): readonly Area[] =>
  useSyncExternalStore(
    listen,
    () => snapshot,
    () => NONE,
  );

/** Says that the keys of an area work on this page as long as the caller is on it. */
export function useKeyArea(area: Area, isOn = true): void {
  useEffect(() => {
    if (!isOn) return;
    count(area, 1);
    return () => count(area, -1);
  }, [area, isOn]);
}

const dialogIsOpen = (): boolean => document.querySelector('[role="dialog"][aria-modal="true"]') !== null;

/**
 * Listens on the whole page for the keys of an area. An act without a function leaves its key to the page. Nothing
 * fires while a field has the focus, but for keys with Ctrl or Command and those that no one writes with; nothing fires
 * under an open dialog.
 */
export function useShortcuts<A extends Area>(
  area: A,
  acts: Partial<Record<ShortcutIn<A>, (() => void) | undefined>>,
): void {
  useKeyArea(area);
  const [singleSigns] = useSingleSigns();
  const now = useRef({ acts, singleSigns });
  now.current = { acts, singleSigns };
  useEffect(() => {
    const onKey = (event: KeyboardEvent) => {
      const id = event.defaultPrevented || event.isComposing ? null : actOf(area, event);
      const act = id === null ? undefined : now.current.acts[id];
      if (id === null || act === undefined || dialogIsOpen()) return;
      if (isSingleSign(id) && (isTyping(event.target) || !now.current.singleSigns)) return;
      // A letter would otherwise be written into the field that takes the focus.
      event.preventDefault();
      act();
    };
    window.addEventListener('keydown', onKey);
    return () => window.removeEventListener('keydown', onKey);
  }, [area]);
}
