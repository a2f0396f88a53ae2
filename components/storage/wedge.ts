import { useEffect, useRef } from 'react';
import { isTyping } from '@/components/ui/shortcuts/typing';

/** A scanner that types is faster than any hand: no longer than this between two signs. */
const LONGEST_STEP_MS = 40;
const SHORTEST_CODE = 4;

type Key = { key: string; at: number; isText: boolean };

/** Puts keys together and answers the code when Enter ends a run that no hand types. */
export class WedgeReader {
  private signs = '';
  private lastAt = Number.NEGATIVE_INFINITY;

  /** Takes the next key; the code when it is complete, else null. */
  take({ key, at, isText }: Key): string | null {
    // Comes with capitals, and is no sign itself.
    if (key === 'Shift') return null;
    const isFast = at - this.lastAt <= LONGEST_STEP_MS;
    this.lastAt = at;
    if (key === 'Enter') {
      const code = this.signs;
      this.signs = '';
      return isFast && code.length >= SHORTEST_CODE ? code : null;
    }
    if (!isText) {
      this.signs = '';
      return null;
    }
    this.signs = isFast ? this.signs + key : key;
    return null;
  }
}

/** Calls `onCode` for codes a scanner types while no field has the focus. */
export function useWedge(onCode: (code: string) => void): void {
  const handler = useRef(onCode);
  handler.current = onCode;
  useEffect(() => {
    const reader = new WedgeReader();
    const listen = (event: KeyboardEvent) => {
      if (isTyping(event.target) || event.ctrlKey || event.metaKey || event.altKey) return;
      const code = reader.take({ key: event.key, at: event.timeStamp, isText: event.key.length === 1 });
      if (code === null) return;
      event.preventDefault();
      event.stopPropagation();
      handler.current(code);
    };
    // Before the pages' own keys: the Enter of a scanner must not press a button that has the focus.
    window.addEventListener('keydown', listen, true);
    return () => window.removeEventListener('keydown', listen, true);
  }, []);
}
