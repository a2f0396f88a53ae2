import { nice, ticks } from 'd3-array';
import { say } from '@/lib/platform/words/say';
import classes from './charts.module.css';
import { hatchOf } from './hatches';

export type QuartileRow = {
  label: string;
  /** Place of its colour and mark in the order of the series. */
  series: number;
  count: number;
  least: number;
  lowerQuartile: number;
  median: number;
  upperQuartile: number;
  most: number;
};

const ROW_PX = 40;

/** Least to most as a line, the middle half as a box, the median as a bar; one row for each group. */
export function QuartileBoxes({
  rows,
  unit,
  hatchId,
  summary,
}: {
  rows: readonly QuartileRow[];
  unit: string;
  hatchId: string;
  summary: string;
}) {
  const least = Math.min(...rows.map((row) => row.least));
  const most = Math.max(...rows.map((row) => row.most));
  const pad = least === most ? Math.max(1, least * 0.1) : 0;
  const [from, to] = nice(least - pad, most + pad, 5);
  const x = (value: number) => `${3 + ((value - from) / (to - from)) * 94}%`;
  const height = rows.length * ROW_PX;
  return (
    <div className={classes.boxes} role="img" aria-label={summary}>
      <div className={classes.boxNames} aria-hidden="true">
        {rows.map((row) => (
          <span key={row.label}>
            {row.label} <small>({row.count})</small>
          </span>
        ))}
      </div>
      <svg className={classes.plot} width="100%" height={height + 26} aria-hidden="true">
        {ticks(from, to, 5).map((tick) => (
          <g key={tick}>
            <line className={classes.grid} x1={x(tick)} x2={x(tick)} y1="0" y2={height} />
            <text x={x(tick)} y={height + 20} textAnchor="middle">
              {tick}
            </text>
          </g>
        ))}
        {rows.map((row, at) => {
          const y = at * ROW_PX + ROW_PX / 2;
          return (
            <g key={row.label} className={classes.box}>
              <line x1={x(row.least)} x2={x(row.most)} y1={y} y2={y} />
              <svg
                x={x(row.lowerQuartile)}
                y={y - 10}
                width="100%"
                height="20"
                overflow="visible"
                aria-hidden="true"
              >
                <rect
                  width={`${((row.upperQuartile - row.lowerQuartile) / (to - from)) * 94}%`}
                  height="20"
                  fill={hatchOf(hatchId, row.series)}
                />
              </svg>
              <line
                className={classes.median}
                x1={x(row.median)}
                x2={x(row.median)}
                y1={y - 14}
                y2={y + 14}
              />
              <title>
                {say('{label}: median {median} {unit}', { label: row.label, median: row.median, unit })}
              </title>
            </g>
          );
        })}
      </svg>
    </div>
  );
}
