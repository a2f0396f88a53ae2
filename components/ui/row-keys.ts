import { type KeyboardEvent, useState } from 'react';

/** Where a key leads from a row; null for keys that do not move. */
export function rowAfter(key: string, row: number, count: number): number | null {
  const last = count - 1;
  if (key === 'ArrowDown' || key === 'j') return Math.min(last, row + 1);
  if (key === 'ArrowUp' || key === 'k') return Math.max(0, row - 1);
  if (key === 'Home') return 0;
  if (key === 'End') return last;
  return null;
}

/**
 * One row of a list is in the tab order; arrow keys (or j and k), Home and End move among the rows. A row's focus is
 * on the element marked `data-row-focus`; Enter is that link's or button's own.
 */
export function useRowKeys(count: number, onSpace?: (row: number) => void) {
  const [active, setActive] = useState(0);
  const current = Math.min(active, Math.max(0, count - 1));
  const onKeyDown = (event: KeyboardEvent<HTMLElement>) => {
    const target = event.target as HTMLElement;
    const rows = [...event.currentTarget.querySelectorAll<HTMLElement>('[data-row-focus]')];
    const row = rows.indexOf(target);
    if (row === -1 || event.metaKey || event.ctrlKey || event.altKey) return;
    if (event.key === ' ' && onSpace) {
      event.preventDefault();
      onSpace(row);
      return;
    }
    const next = rowAfter(event.key, row, rows.length);
    if (next === null) return;
    event.preventDefault();
    setActive(next);
    rows[next]?.focus();
  };
  return { current, setActive, onKeyDown };
}
