import type { ReactNode } from 'react';
import classes from './charts.module.css';
import { labelEvery } from './figures';

export const PLOT_PX = 220;
const ROOM = 12;

/** Where a value stands on the upright axis, in px from the top. */
export const upright = (value: number, ticks: readonly number[]): number =>
  PLOT_PX - (value / (ticks.at(-1) ?? 1)) * (PLOT_PX - 8);

/** Axes of an upright chart: counts at the left, one place for each label below. Children are drawn in percent. */
export function Frame({
  summary,
  ticks,
  labels,
  children,
}: {
  summary: string;
  ticks: readonly number[];
  labels: readonly string[];
  children: ReactNode;
}) {
  const every = labelEvery(labels.length, ROOM);
  return (
    <div className={classes.frame} role="img" aria-label={summary}>
      <svg className={classes.axis} width="48" height={PLOT_PX + 8} aria-hidden="true">
        {ticks.map((tick) => (
          <text key={tick} x="40" y={upright(tick, ticks) + 5} textAnchor="end">
            {tick}
          </text>
        ))}
      </svg>
      <svg className={classes.plot} width="100%" height={PLOT_PX + 8} aria-hidden="true">
        {ticks.map((tick) => (
          <line
            key={tick}
            className={classes.grid}
            x1="0"
            x2="100%"
            y1={upright(tick, ticks)}
            y2={upright(tick, ticks)}
          />
        ))}
        {children}
      </svg>
      <div className={classes.labels} aria-hidden="true">
        {labels.map((label, at) =>
          at % every === 0 ? (
            <span
              key={label}
              style={{ left: `${((at + 0.5) / labels.length) * 100}%` }}
              data-minor={at % (2 * every) !== 0 || undefined}
            >
              {label}
            </span>
          ) : null,
        )}
      </div>
    </div>
  );
}
