import type { Grid } from '@/lib/storage/schema';

/** Where a key leads from a position of a grid; null for keys that do not move. Edges hold. */
export function positionAfterKey(grid: Grid, position: number, key: string, isCtrl: boolean): number | null {
  const row = Math.floor(position / grid.columns);
  const column = position % grid.columns;
  const last = { row: grid.rows - 1, column: grid.columns - 1 };
  const at = (toRow: number, toColumn: number) =>
    Math.min(Math.max(toRow, 0), last.row) * grid.columns + Math.min(Math.max(toColumn, 0), last.column);
  switch (key) {
    case 'ArrowLeft':
      return at(row, column - 1);
    case 'ArrowRight':
      return at(row, column + 1);
    case 'ArrowUp':
      return at(row - 1, column);
    case 'ArrowDown':
      return at(row + 1, column);
    case 'Home':
      return at(isCtrl ? 0 : row, 0);
    case 'End':
      return at(isCtrl ? last.row : row, last.column);
    case 'PageUp':
      return at(0, column);
    case 'PageDown':
      return at(last.row, column);
    default:
      return null;
  }
}
