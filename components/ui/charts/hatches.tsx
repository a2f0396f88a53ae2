import { CHART_LIGHT } from '../colours';

/** How many series a chart can tell apart. */
export const SERIES = CHART_LIGHT.length;

/** A mark beside each colour, so that paper without colours and colour-blind eyes can tell the series apart. */
const MARKS = [
  '',
  'M-1 7 L7 -1 M3 11 L11 3',
  'M2 4 a1 1 0 1 0 4 0 a1 1 0 1 0 -4 0',
  'M-1 1 L7 9 M3 -3 L11 5',
  'M0 4 H8',
  'M0 4 H8 M4 0 V8',
] as const;

/** Patterns `<id>-0` to `<id>-5`: the colours of a chart's series, each with its mark. */
export function Hatches({ id }: { id: string }) {
  return (
    <svg width="0" height="0" style={{ position: 'absolute' }} aria-hidden="true">
      <defs>
        {MARKS.map((mark, at) => (
          <pattern
            key={mark}
            id={`${id}-${at}`}
            width="8"
            height="8"
            patternUnits="userSpaceOnUse"
            style={{ printColorAdjust: 'exact' }}
          >
            <rect width="8" height="8" style={{ fill: `var(--f-chart-${at + 1})` }} />
            <path d={mark} style={{ fill: 'none', stroke: 'var(--f-paper)', strokeWidth: 1.6 }} />
          </pattern>
        ))}
      </defs>
    </svg>
  );
}

export const hatchOf = (id: string, series: number): string => `url(#${id}-${series % SERIES})`;

/** useId's text as it may stand in url(#…). */
export const plainId = (id: string): string => `h${id.replace(/\W/g, '')}`;
