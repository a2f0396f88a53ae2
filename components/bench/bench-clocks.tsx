import { whenOpened } from '@/components/ui/later';
import type { ClockSettings, SentTimes } from '@/lib/bench/clock-schema';
import { say } from '@/lib/platform/words/say';
import classes from './clocks.module.css';

// No server knows what the clock of the page says, so nothing is lost by their coming later.
const RunningClocks = whenOpened(
  () => import('./clocks').then((module) => module.RunningClocks),
  () => <p className={classes.none}>{say('Reading the clocks')}</p>,
);

/** The clocks of the record at hand, where any runs. */
export const BenchClocks = ({ times, settings }: { times: SentTimes; settings: ClockSettings }) =>
  times.outOfFreezerAt === null && times.workableAt === null ? (
    <p className={classes.none}>
      {say('No clock runs: this bird came fresh, or nobody noted when it was taken out.')}
    </p>
  ) : (
    <RunningClocks times={times} settings={settings} />
  );
