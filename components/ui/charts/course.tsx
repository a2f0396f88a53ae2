import classes from './charts.module.css';
import { countTicks } from './figures';
import { Frame, PLOT_PX, upright } from './frame';

/** One number over time as a line with its area. */
export function Course({
  points,
  summary,
}: {
  points: readonly { label: string; value: number }[];
  summary: string;
}) {
  const ticks = countTicks(Math.max(0, ...points.map(({ value }) => value)));
  const x = (at: number) => (((at + 0.5) / points.length) * 100).toFixed(2);
  const line = points.map(({ value }, at) => `${x(at)},${upright(value, ticks).toFixed(1)}`).join(' ');
  return (
    <Frame summary={summary} ticks={ticks} labels={points.map(({ label }) => label)}>
      <svg
        width="100%"
        height={PLOT_PX + 8}
        viewBox={`0 0 100 ${PLOT_PX + 8}`}
        preserveAspectRatio="none"
        aria-hidden="true"
      >
        <polygon
          className={classes.area}
          points={`${x(0)},${PLOT_PX} ${line} ${x(points.length - 1)},${PLOT_PX}`}
        />
        <polyline className={classes.course} points={line} vectorEffect="non-scaling-stroke" />
      </svg>
      {points.map(({ label, value }, at) => (
        <circle key={label} className={classes.point} cx={`${x(at)}%`} cy={upright(value, ticks)} r="3">
          <title>{`${label}: ${value}`}</title>
        </circle>
      ))}
    </Frame>
  );
}
