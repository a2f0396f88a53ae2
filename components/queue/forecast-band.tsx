import { ticks } from 'd3-array';
import { sayDay } from '@/lib/platform/say-dates';
import { say } from '@/lib/platform/words/say';
import type { ForecastShape } from '@/lib/queue/forecast-wire';
import classes from './plan.module.css';

const WIDTH = 820;
const HEIGHT = 320;
const LEFT = 52;
const RIGHT = 12;
const TOP = 12;
const FOOT = 28;

type Week = ForecastShape['weeks'][number];

/** The middle course with its bands, and the middle of the other course beside it; the table has the same figures. */
export function ForecastBand({
  today,
  changed,
  changedLabel,
}: {
  today: ForecastShape;
  changed: ForecastShape | null;
  changedLabel: string;
}) {
  const { weeks } = today;
  const most = Math.max(
    1,
    ...weeks.map((week) => week.p95),
    ...(changed?.weeks ?? []).map((week) => week.p50),
  );
  const x = (week: number) => LEFT + ((week - 1) / Math.max(1, weeks.length - 1)) * (WIDTH - LEFT - RIGHT);
  const y = (value: number) => HEIGHT - FOOT - (value / most) * (HEIGHT - FOOT - TOP);
  const path = (list: readonly Week[], at: (week: Week) => number) =>
    list.map((week) => `${x(week.week).toFixed(1)},${y(at(week)).toFixed(1)}`);
  const area = (low: (week: Week) => number, high: (week: Week) => number) =>
    [...path(weeks, high), ...path(weeks, low).reverse()].join(' ');
  const marks = weeks.filter((week) => week.week % 13 === 1);
  return (
    <figure style={{ margin: 0 }}>
      <svg
        className={classes.plot}
        viewBox={`0 0 ${WIDTH} ${HEIGHT}`}
        role="img"
        aria-label={say('Birds waiting by week with the bands of the runs; the table below has the figures')}
      >
        {ticks(0, most, 5).map((tick) => (
          <g key={tick}>
            <line className={classes.axis} x1={LEFT} x2={WIDTH - RIGHT} y1={y(tick)} y2={y(tick)} />
            <text className={classes.tick} x={LEFT - 8} y={y(tick) + 4} textAnchor="end">
              {tick}
            </text>
          </g>
        ))}
        {marks.map((week) => (
          <text key={week.week} className={classes.tick} x={x(week.week)} y={HEIGHT - 8}>
            {sayDay(week.on).slice(-8)}
          </text>
        ))}
        <polygon
          className={classes.band}
          points={area(
            (week) => week.p5,
            (week) => week.p95,
          )}
        />
        <polygon
          className={classes.inner}
          points={area(
            (week) => week.p25,
            (week) => week.p75,
          )}
        />
        <polyline className={classes.line} points={path(weeks, (week) => week.p50).join(' ')} />
        {changed === null ? null : (
          <polyline className={classes.other} points={path(changed.weeks, (week) => week.p50).join(' ')} />
        )}
      </svg>
      <figcaption>
        {say('Full line: middle of the runs as things are.{x}', {
          x: changed === null ? '' : say(' Dashed line: middle with {changedLabel}.', { changedLabel }),
        })}
      </figcaption>
    </figure>
  );
}
