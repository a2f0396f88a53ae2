/** Geometry of the life line in the rail, in px: rows down one trunk, three lanes where the carcass is divided. */

export const ROW_PX = 40;
export const LANES_PX = { left: 9, trunk: 24, right: 39 } as const;

export type RailDot = { id: string; x: number; y: number };
export type RailDrawing = { height: number; paths: string[]; dots: RailDot[] };

const rowY = (row: number): number => row * ROW_PX + ROW_PX / 2;

/** Lanes of the forked stages, top to bottom: spread from left to right, one alone stays on the trunk. */
function laneOf(index: number, count: number): number {
  if (count === 1) return LANES_PX.trunk;
  return LANES_PX.left + ((LANES_PX.right - LANES_PX.left) * index) / (count - 1);
}

/** One arm of the wishbone: out of the stage before, along its lane, back into the stage after. */
function drawArm(lane: number, from: number | null, first: number, last: number, to: number | null): string {
  const { trunk } = LANES_PX;
  const out =
    from === null
      ? `M${lane} ${first}`
      : `M${trunk} ${from}C${trunk} ${from + 18} ${lane} ${from + 12} ${lane} ${first}`;
  const along = `L${lane} ${last}`;
  const back = to === null ? '' : `C${lane} ${to - 12} ${trunk} ${to - 18} ${trunk} ${to}`;
  return `${out}${along}${back}`;
}

/**
 * Lays the stages out in rows. Consecutive stages whose id is in `forked` lie on lanes of their own, joined to the
 * trunk before and after them.
 */
export function drawRail(ids: readonly string[], forked: ReadonlySet<string>): RailDrawing {
  const inFork = ids.filter((id) => forked.has(id));
  const dots = ids.map((id, row) => ({
    id,
    x: forked.has(id) ? laneOf(inFork.indexOf(id), inFork.length) : LANES_PX.trunk,
    y: rowY(row),
  }));
  const height = ids.length * ROW_PX;
  const firstRow = ids.findIndex((id) => forked.has(id));
  if (firstRow === -1) {
    return { height, dots, paths: ids.length > 1 ? [`M24 ${rowY(0)}L24 ${rowY(ids.length - 1)}`] : [] };
  }
  const lastRow = firstRow + inFork.length - 1;
  const from = firstRow > 0 ? rowY(firstRow - 1) : null;
  const to = lastRow < ids.length - 1 ? rowY(lastRow + 1) : null;
  const paths = inFork.map((_, index) =>
    drawArm(laneOf(index, inFork.length), from, rowY(firstRow), rowY(lastRow), to),
  );
  if (firstRow > 1) paths.unshift(`M24 ${rowY(0)}L24 ${rowY(firstRow - 1)}`);
  if (to !== null && lastRow + 1 < ids.length - 1) paths.push(`M24 ${to}L24 ${rowY(ids.length - 1)}`);
  return { height, dots, paths };
}
