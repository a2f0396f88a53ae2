import { say } from '@/lib/platform/words/say';
import type { Grid, Verdict } from './schema';

/** Number of positions of a grid. */
export function countPositions(grid: Grid): number {
  return grid.rows * grid.columns;
}

/** 0 → A, 25 → Z, 26 → AA, as spreadsheets count. */
function formatLetters(index: number): string {
  let letters = '';
  for (let rest = index + 1; rest > 0; rest = Math.floor((rest - 1) / 26)) {
    letters = String.fromCharCode(65 + ((rest - 1) % 26)) + letters;
  }
  return letters;
}

function parseLetters(letters: string): number {
  return [...letters].reduce((sum, letter) => sum * 26 + letter.charCodeAt(0) - 64, 0) - 1;
}

/**
 * Writes a position in the grid's own way.
 * @param position index counted along rows from 0; throws RangeError outside the grid
 */
export function formatPosition(grid: Grid, position: number): string {
  if (!Number.isInteger(position) || position < 0 || position >= countPositions(grid)) {
    throw new RangeError(`Position ${position} is outside a grid of ${grid.rows} × ${grid.columns}.`);
  }
  const row = Math.floor(position / grid.columns);
  const column = position % grid.columns;
  switch (grid.scheme) {
    case 'row-letter':
      return `${formatLetters(row)}${column + 1}`;
    case 'column-letter':
      return `${formatLetters(column)}${row + 1}`;
    case 'running-by-row':
      return String(position + 1);
    case 'running-by-column':
      return String(column * grid.rows + row + 1);
  }
}

export type PositionProblem = 'not-a-position' | 'outside-the-grid';

/** Reads a position as a person writes it ("a1", "A 01", "A-1", "17"); the value is the index along rows. */
export function parsePosition(grid: Grid, text: string): Verdict<number, PositionProblem> {
  const last = formatPosition(grid, countPositions(grid) - 1);
  const lettered = grid.scheme === 'row-letter' || grid.scheme === 'column-letter';
  const match = (lettered ? /^([A-Z]{1,3})[\s\-:.]*0*(\d{1,7})$/ : /^()0*(\d{1,7})$/).exec(
    text.normalize('NFKC').trim().toUpperCase(),
  );
  if (!match) {
    const first = formatPosition(grid, 0);
    return {
      ok: false,
      reason: 'not-a-position',
      message: say('"{text}" is not a position here: positions run from {first} to {last}.', {
        text,
        first,
        last,
      }),
    };
  }
  const number = Number(match[2]) - 1;
  const letter = lettered ? parseLetters(match[1] ?? '') : 0;
  const [row, column] = locate(grid, letter, number);
  if (row < 0 || column < 0 || row >= grid.rows || column >= grid.columns) {
    return {
      ok: false,
      reason: 'outside-the-grid',
      message: say('{text} does not exist here: the last position is {last}.', { text: text.trim(), last }),
    };
  }
  return { ok: true, value: row * grid.columns + column };
}

function locate(grid: Grid, letter: number, number: number): [row: number, column: number] {
  switch (grid.scheme) {
    case 'row-letter':
      return [letter, number];
    case 'column-letter':
      return [number, letter];
    case 'running-by-row':
      return [Math.floor(number / grid.columns), number < 0 ? -1 : number % grid.columns];
    case 'running-by-column':
      return [number < 0 ? -1 : number % grid.rows, Math.floor(number / grid.rows)];
  }
}

/** All positions in the order in which the grid's own names count. */
export function listPositionsInOrder(grid: Grid): number[] {
  const positions: number[] = [];
  const downColumns = grid.scheme === 'running-by-column' || grid.scheme === 'column-letter';
  const [outer, inner] = downColumns ? [grid.columns, grid.rows] : [grid.rows, grid.columns];
  for (let a = 0; a < outer; a += 1) {
    for (let b = 0; b < inner; b += 1) {
      positions.push(downColumns ? b * grid.columns + a : a * grid.columns + b);
    }
  }
  return positions;
}

/**
 * The next free positions, in the order of the grid's names.
 * @param taken positions that hold something
 * @param together only an unbroken run of positions will do
 * @returns `count` positions, or fewer (or none, if together) where the box does not have them
 */
export function findFreePositions(
  grid: Grid,
  taken: ReadonlySet<number>,
  count: number,
  together = false,
): number[] {
  let found: number[] = [];
  for (const position of listPositionsInOrder(grid)) {
    if (found.length >= count) break;
    if (!taken.has(position)) found.push(position);
    else if (together) found = [];
  }
  return together && found.length < count ? [] : found;
}
