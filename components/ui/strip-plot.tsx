import { ticks } from 'd3-array';
import { layOutStrip, placeOn, sayFigure } from './strip';
import classes from './strip-plot.module.css';

const TOP_PX = 22;
const FOOT_PX = 26;
const STACK_PX = 48;

/**
 * Other values of the same kind as dots on a strip, the usual band behind them, and the new value above.
 * `summary` says the same in words (see sayAgainst) and stands below the drawing.
 */
export function StripPlot({
  values,
  unit,
  value,
  band,
  unusual = false,
  summary,
}: {
  values: readonly number[];
  unit: string;
  value?: number | null;
  /** The usual range and what it is: 'middle 95 %', 'published range'. */
  band?: { low: number; high: number; label: string } | null;
  /** Draws the new value in the attention colour. */
  unusual?: boolean;
  summary: string;
}) {
  const extra = [value, band?.low, band?.high].filter((each) => each !== null && each !== undefined);
  const strip = layOutStrip(values, extra);
  const stepPx = Math.min(8, STACK_PX / Math.max(1, strip.levels));
  const baseY = TOP_PX + Math.max(28, (strip.levels - 1) * stepPx + 16);
  const x = (each: number) => `${placeOn(strip.domain, each)}%`;
  return (
    <figure className={classes.figure}>
      <svg className={classes.plot} width="100%" height={baseY + FOOT_PX} role="img" aria-label={summary}>
        {band && (
          <rect
            className={classes.band}
            x={x(band.low)}
            y={TOP_PX}
            width={`${placeOn(strip.domain, band.high) - placeOn(strip.domain, band.low)}%`}
            height={baseY - TOP_PX}
          />
        )}
        <line className={classes.axis} x1="0%" x2="100%" y1={baseY} y2={baseY} />
        {ticks(strip.domain[0], strip.domain[1], 4).map((tick) => (
          <g key={tick}>
            <line className={classes.axis} x1={x(tick)} x2={x(tick)} y1={baseY} y2={baseY + 5} />
            <text className={classes.tick} x={x(tick)} y={baseY + 20} textAnchor="middle">
              {sayFigure(tick)}
            </text>
          </g>
        ))}
        {strip.dots.map((dot, index) => (
          <circle
            // biome-ignore lint/suspicious/noArrayIndexKey: equal values have nothing else to tell them apart
            key={index}
            className={classes.dot}
            cx={`${dot.xPercent}%`}
            cy={baseY - 7 - dot.level * stepPx}
            r={3.5}
          />
        ))}
        {value !== null && value !== undefined && (
          <g className={classes.value} data-unusual={unusual || undefined}>
            <line x1={x(value)} x2={x(value)} y1={TOP_PX - 2} y2={baseY} />
            <text
              x={x(value)}
              y={TOP_PX - 7}
              textAnchor={anchorOf(placeOn(strip.domain, value))}
            >{`${sayFigure(value)} ${unit}`}</text>
          </g>
        )}
      </svg>
      <figcaption className={classes.caption}>
        {summary}
        {band && <span className={classes.key}>{band.label}</span>}
      </figcaption>
    </figure>
  );
}

/** Keeps a label inside the drawing at its ends. */
const anchorOf = (percent: number): 'start' | 'middle' | 'end' =>
  percent < 15 ? 'start' : percent > 85 ? 'end' : 'middle';
