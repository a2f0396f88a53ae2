import classes from './charts.module.css';
import { countTicks } from './figures';
import { Frame, upright } from './frame';
import { hatchOf } from './hatches';

export type BarRow = { label: string; counts: readonly number[] };
const sum = (counts: readonly number[]) => counts.reduce((total, count) => total + count, 0);

/** Pieces of a bar, one above the other: where each begins and ends. */
const stack = (counts: readonly number[]) =>
  counts.map((count, at) => ({ at, count, from: sum(counts.slice(0, at)) })).filter(({ count }) => count > 0);

/** Upright bars, one for each row, its series one above the other. */
export function StackedBars({
  rows,
  series,
  hatchId,
  summary,
}: {
  rows: readonly BarRow[];
  series: readonly string[];
  hatchId: string;
  summary: string;
}) {
  const ticks = countTicks(Math.max(0, ...rows.map(({ counts }) => sum(counts))));
  const wide = 100 / Math.max(1, rows.length);
  return (
    <Frame summary={summary} ticks={ticks} labels={rows.map(({ label }) => label)}>
      {rows.flatMap(({ label, counts }, row) =>
        stack(counts).map(({ at, count, from }) => (
          <rect
            key={`${label} ${series[at]}`}
            className={classes.bar}
            x={`${(row + 0.12) * wide}%`}
            width={`${0.76 * wide}%`}
            y={upright(from + count, ticks)}
            height={upright(from, ticks) - upright(from + count, ticks)}
            fill={hatchOf(hatchId, at)}
          >
            <title>{`${label}, ${series[at]}: ${count}`}</title>
          </rect>
        )),
      )}
    </Frame>
  );
}

/** Lying bars with their names beside them, for names that are long. */
export function LyingBars({
  rows,
  series,
  hatchId,
  summary,
}: {
  rows: readonly BarRow[];
  series: readonly string[];
  hatchId: string;
  summary: string;
}) {
  const most = Math.max(1, ...rows.map(({ counts }) => sum(counts)));
  const percent = (count: number) => `${(count / most) * 100}%`;
  return (
    <div className={classes.lying} role="img" aria-label={summary}>
      {rows.map(({ label, counts }) => (
        <div key={label} className={classes.lyingRow} aria-hidden="true">
          <span>{label}</span>
          <svg width="100%" height="20" aria-hidden="true">
            {stack(counts).map(({ at, count, from }) => (
              <rect
                key={series[at]}
                className={classes.bar}
                x={percent(from)}
                width={percent(count)}
                height="20"
                fill={hatchOf(hatchId, at)}
              >
                <title>{`${label}, ${series[at]}: ${count}`}</title>
              </rect>
            ))}
          </svg>
          <span className={classes.sum}>{sum(counts)}</span>
        </div>
      ))}
    </div>
  );
}
