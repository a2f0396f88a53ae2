import { StripPlot } from '@/components/ui/strip-plot';
import { countOf } from '@/components/ui/words';
import type { ProcessRow } from '@/lib/storage/schema';
import classes from './process-list.module.css';

/** How long the materials of a state have been in it, each a dot. */
export function AgeStrip({ rows, noun }: { rows: readonly ProcessRow[]; noun: string }) {
  const days = rows.map(({ stay }) => stay.daysIn).sort((a, b) => a - b);
  const middle = days[Math.floor(days.length / 2)] ?? 0;
  const summary = `${countOf(rows.length, noun)} here for ${days[0]} to ${days.at(-1)} days; half of them ${middle} days or longer.`;
  return (
    <details className={classes.ages}>
      <summary>How long they have been here</summary>
      <StripPlot values={days} unit="days" summary={summary} />
    </details>
  );
}
