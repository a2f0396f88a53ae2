'use client';

import { IconChevronLeft, IconChevronRight } from '@tabler/icons-react';
import { say } from '@/lib/platform/words/say';
import { sayNumber } from '@/lib/platform/words/say-number';
import classes from './data-list.module.css';

export type PagingProps = {
  /** Absent on the first page. */
  onPrevious?: () => void;
  /** Absent on the last page. */
  onNext?: () => void;
  size: number;
  onSize?: (size: number) => void;
  /** How many rows there are in all, when known. */
  total?: number;
  /** Number of the first row on this page, from 1, when known. */
  from?: number;
  shown: number;
};

const SIZES = [25, 50, 100, 200] as const;

function sayRange({ total, from, shown }: PagingProps): string {
  if (from === undefined)
    return total === undefined
      ? say('{number} on this page', { number: sayNumber(shown) })
      : say('{number} of {number2}', { number: sayNumber(shown), number2: sayNumber(total) });
  const range = shown === 0 ? '0' : `${sayNumber(from)}–${sayNumber(from + shown - 1)}`;
  return total === undefined ? range : say('{range} of {number}', { range, number: sayNumber(total) });
}

/** Forwards and back through a long list, and how many rows at a time. */
export function Paging(props: PagingProps) {
  const { onPrevious, onNext, size, onSize } = props;
  return (
    <nav className={classes.paging} aria-label={say('Pages of this list')}>
      <span role="status">{sayRange(props)}</span>
      {onSize && (
        <label className={classes.size}>
          {say('Rows')}
          <select value={size} onChange={(event) => onSize(Number(event.currentTarget.value))}>
            {[...new Set([...SIZES, size])]
              .sort((a, b) => a - b)
              .map((option) => (
                <option key={option} value={option}>
                  {option}
                </option>
              ))}
          </select>
        </label>
      )}
      <span className={classes.steps}>
        <button type="button" disabled={!onPrevious} onClick={onPrevious}>
          <IconChevronLeft size={18} stroke={1.75} aria-hidden="true" />
          {say('Previous')}
        </button>
        <button type="button" disabled={!onNext} onClick={onNext}>
          {say('Next')}
          <IconChevronRight size={18} stroke={1.75} aria-hidden="true" />
        </button>
      </span>
    </nav>
  );
}
