import { type KeyboardEvent, useState } from 'react';
import { actOf, type ShortcutIn } from './shortcuts/table';
import { useKeyArea } from './shortcuts/use-shortcuts';

/** Where an act leads from a row; null for acts that do not move. */
export function rowAfter(act: ShortcutIn<'list'> | null, row: number, count: number): number | null {
  const last = count - 1;
  if (act === 'list.next') return Math.min(last, row + 1);
  if (act === 'list.previous') return Math.max(0, row - 1);
  if (act === 'list.first') return 0;
  if (act === 'list.last') return last;
  return null;
}

/**
 * One row of a list is in the tab order; arrow keys (or j and k), Home and End move among the rows. A row's focus is
 * on the element marked `data-row-focus`; Enter is that link's or button's own.
 */
export function useRowKeys(count: number, onSpace?: (row: number) => void) {
  const [active, setActive] = useState(0);
  useKeyArea('list', count > 0);
  const current = Math.min(active, Math.max(0, count - 1));
  const onKeyDown = (event: KeyboardEvent<HTMLElement>) => {
    const target = event.target as HTMLElement;
    const rows = [...event.currentTarget.querySelectorAll<HTMLElement>('[data-row-focus]')];
    const row = rows.indexOf(target);
    if (row === -1) return;
    const act = actOf('list', event);
    if (act === 'list.select' && onSpace) {
      event.preventDefault();
      onSpace(row);
      return;
    }
    const next = rowAfter(act, row, rows.length);
    if (next === null) return;
    event.preventDefault();
    setActive(next);
    rows[next]?.focus();
  };
  return { current, setActive, onKeyDown };
}
