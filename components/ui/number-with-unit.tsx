import { sayNumber } from '@/lib/platform/words/say-number';
import classes from './text.module.css';

/** A figure with its unit (and ± where known), never broken across lines; null reads "not recorded". */
export function NumberWithUnit({
  value,
  unit,
  decimals,
  uncertainty,
}: {
  value: number | null | undefined;
  unit?: string;
  decimals?: number;
  uncertainty?: number | null;
}) {
  if (value === null || value === undefined) return <NotRecorded />;
  return (
    <span className={classes.figure}>
      {sayNumber(value, decimals)}
      {uncertainty != null && ` ± ${sayNumber(uncertainty, decimals)}`}
      {unit && <span className={classes.unit}>{` ${unit}`}</span>}
    </span>
  );
}

/** Stands where a value could be and is not. */
export function NotRecorded({ children = 'not recorded' }: { children?: string }) {
  return <span className={classes.missing}>{children}</span>;
}
