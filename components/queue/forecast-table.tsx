import { sayDay } from '@/lib/platform/say-dates';
import { say } from '@/lib/platform/words/say';
import type { ForecastShape } from '@/lib/queue/forecast-wire';
import classes from './plan.module.css';

const EVERY_WEEKS = 4;

/** The figures of the plot, every fourth week; the CSV has every week. */
export function ForecastTable({
  today,
  changed,
  changedLabel,
}: {
  today: ForecastShape;
  changed: ForecastShape | null;
  changedLabel: string;
}) {
  const round = (value: number | undefined) => (value === undefined ? '' : Math.round(value));
  return (
    <details>
      <summary>{say('The figures, every fourth week')}</summary>
      <div className={classes.scroll}>
        <table className={classes.table}>
          <thead>
            <tr>
              <th scope="col">{say('Week to')}</th>
              {['5 %', '25 %', say('Middle'), '75 %', '95 %'].map((head) => (
                <th key={head} scope="col" className={classes.numeric}>
                  {head}
                </th>
              ))}
              <th scope="col" className={classes.numeric}>
                {say('Cleared in')}
              </th>
              {changed === null ? null : (
                <th scope="col" className={classes.numeric}>
                  {say('Middle, {changedLabel}', { changedLabel })}
                </th>
              )}
            </tr>
          </thead>
          <tbody>
            {today.weeks
              .filter((week) => week.week % EVERY_WEEKS === 0)
              .map((week) => (
                <tr key={week.week}>
                  <th scope="row">{sayDay(week.on)}</th>
                  {[week.p5, week.p25, week.p50, week.p75, week.p95].map((value, at) => (
                    // biome-ignore lint/suspicious/noArrayIndexKey: five fixed columns
                    <td key={at} className={classes.numeric}>
                      {round(value)}
                    </td>
                  ))}
                  <td className={classes.numeric}>{Math.round(100 * week.clearedShare)} %</td>
                  {changed === null ? null : (
                    <td className={classes.numeric}>{round(changed.weeks[week.week - 1]?.p50)}</td>
                  )}
                </tr>
              ))}
          </tbody>
        </table>
      </div>
    </details>
  );
}
