import { StripPlot } from '@/components/ui/strip-plot';
import { countOf, say } from '@/lib/platform/words/say';
import type { ProcessRow } from '@/lib/storage/schema';
import classes from './process-list.module.css';

/** How long the materials of a state have been in it, each a dot. */
export function AgeStrip({ rows, noun }: { rows: readonly ProcessRow[]; noun: string }) {
  const days = rows.map(({ stay }) => stay.daysIn).sort((a, b) => a - b);
  const middle = days[Math.floor(days.length / 2)] ?? 0;
  const summary = say('{of} here for {days} to {at} days; half of them {middle} days or longer.', {
    of: countOf(rows.length, noun),
    days: days[0],
    at: days.at(-1),
    middle,
  });
  return (
    <details className={classes.ages}>
      <summary>{say('How long they have been here')}</summary>
      <StripPlot values={days} unit={say('days')} summary={summary} />
    </details>
  );
}
