import { MAP_STEPS, type MapMark, MOST_MARKS } from '../figures-wire';
import { printBox } from '../query/print';
import { quoteValue } from '../query/tokens';

/** Hits in one cell of a grid, counted from the equator and the zero meridian; see repo/search/places. */
export type Cell = {
  row: number;
  col: number;
  count: number;
  coarse: number;
  latitude: number;
  longitude: number;
  names: string[];
};
const NAMES_KEPT = 5;

/** The cells of a finer grid put together into those of a coarser one, whose step is a multiple of the finer. */
export function mergeCells(cells: readonly Cell[], fine: number, coarse: number): Cell[] {
  const ratio = Math.round(coarse / fine);
  const merged = new Map<string, Cell>();
  for (const cell of cells) {
    const [row, col] = [Math.floor(cell.row / ratio), Math.floor(cell.col / ratio)];
    const key = `${row} ${col}`;
    const before = merged.get(key);
    merged.set(key, before === undefined ? { ...cell, row, col } : addCells(before, cell));
  }
  return [...merged.values()];
}

function addCells(a: Cell, b: Cell): Cell {
  const count = a.count + b.count;
  const mean = (of: 'latitude' | 'longitude') => (a[of] * a.count + b[of] * b.count) / count;
  return {
    ...a,
    count,
    coarse: a.coarse + b.coarse,
    latitude: mean('latitude'),
    longitude: mean('longitude'),
    names: [...new Set([...a.names, ...b.names])].slice(0, NAMES_KEPT),
  };
}

const tidy = (degrees: number, digits: number): number => Number(degrees.toFixed(digits)) + 0;

/** Marks of the cells, most birds first; a coarser grid than asked where there would be too many of them. */
export function drawCells(
  cells: readonly Cell[],
  asked: number,
  most = MOST_MARKS,
): { step: number; marks: MapMark[] } {
  const coarser = MAP_STEPS.filter((step) => step >= asked);
  const step =
    coarser.find((one) => mergeCells(cells, asked, one).length <= most) ?? Number(coarser.at(-1) ?? asked);
  const marks = mergeCells(cells, asked, step)
    .sort((a, b) => b.count - a.count || a.row - b.row || a.col - b.col)
    .slice(0, most)
    .map((cell): MapMark => {
      const side = (index: number, limit: number) => Math.min(limit, tidy(index * step, 4));
      const box = {
        south: side(cell.row, 90),
        north: side(cell.row + 1, 90),
        west: side(cell.col, 180),
        east: side(cell.col + 1, 180),
      };
      return {
        id: `${cell.row} ${cell.col}`,
        latitude: tidy(cell.latitude, 5),
        longitude: tidy(cell.longitude, 5),
        count: cell.count,
        coarse: cell.coarse,
        places: [...cell.names].sort(),
        terms: [printBox(box)],
      };
    });
  return { step, marks };
}

/** Hits of one county; of one state where the county is empty. */
export type NamedPlaceCount = {
  country: string;
  stateProvince: string;
  county: string;
  count: number;
  coarse: number;
};
type Centre = { latitude: number; longitude: number; of: 'county' | 'state' | 'country' };

/**
 * Marks at the middles of counties and states; `unplaced` counts the hits whose place has no outline.
 * @param findCentre the middle of the finest of the names that is known
 */
export function drawCounties(
  rows: readonly NamedPlaceCount[],
  findCentre: (place: NamedPlaceCount) => Centre | null,
  most = MOST_MARKS,
): { marks: MapMark[]; unplaced: number } {
  const marks: MapMark[] = [];
  let unplaced = 0;
  for (const row of [...rows].sort((a, b) => b.count - a.count)) {
    const centre = findCentre(row);
    if (centre === null || marks.length >= most) {
      unplaced += row.count;
      continue;
    }
    const place = [row.county, row.stateProvince].filter((name) => name !== '').join(', ');
    const widest = row.stateProvince || row.country;
    marks.push({
      id: [row.country, row.stateProvince, row.county].join('/'),
      latitude: centre.latitude,
      longitude: centre.longitude,
      count: row.count,
      coarse: centre.of === 'county' ? row.coarse : row.count,
      places: [place || row.country],
      terms: [
        ...(row.county === '' ? [] : [`county:${quoteValue(row.county)}`]),
        `place:${quoteValue(widest)}`,
      ],
    });
  }
  return { marks, unplaced };
}
