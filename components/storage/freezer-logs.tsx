'use client';

import { useQuery } from '@tanstack/react-query';
import { ExposedVials } from '@/components/tissues/exposed-vials';
import { EmptyState } from '@/components/ui/empty-state';
import { ErrorState } from '@/components/ui/error-state';
import { Fact, Facts } from '@/components/ui/facts';
import { Loading } from '@/components/ui/loading';
import { Moment } from '@/components/ui/moment';
import { NumberWithUnit, sayNumber } from '@/components/ui/number-with-unit';
import { StateBadge } from '@/components/ui/state-badge';
import { countOf } from '@/components/ui/words';
import type { UnitRecord } from '@/lib/storage/wire';
import type { LogRow } from '@/lib/storage/wire-logs';
import classes from './freezer-logs.module.css';
import { LoadLog } from './load-log';
import { logsOptions } from './queries';

/** Hours and minutes of a spell: "2 h 10 min". */
export function saySpell(minutes: number): string {
  const whole = Math.round(minutes);
  const hours = Math.floor(whole / 60);
  return hours === 0 ? `${whole} min` : `${hours} h${whole % 60 === 0 ? '' : ` ${whole % 60} min`}`;
}

/** The temperature logs of a freezer: warm spells, gaps, and the vials that were there meanwhile. */
export function FreezerLogs({ unit }: { unit: UnitRecord }) {
  const logs = useQuery(logsOptions(unit.id));
  if (logs.error) {
    return (
      <ErrorState
        what="The logs could not be loaded."
        error={logs.error}
        onRetry={() => void logs.refetch()}
      />
    );
  }
  if (logs.data === undefined) return <Loading what="Loading the logs" />;
  return (
    <>
      {logs.data.mayLoad && <LoadLog unit={unit} />}
      {logs.data.rows.length === 0 ? (
        <EmptyState title="No log read yet">
          <p>Save the readings of the freezer's logger as a table with its times, and read it here.</p>
        </EmptyState>
      ) : (
        logs.data.rows.map((log) => <Log key={log.id} log={log} />)
      )}
    </>
  );
}

function Log({ log }: { log: LogRow }) {
  const warm = log.excursions.length;
  return (
    <article className={classes.log} aria-labelledby={`log-${log.id}`}>
      <h3 id={`log-${log.id}`}>
        <Moment at={log.fromAt} /> to <Moment at={log.toAt} />
      </h3>
      <p>
        <StateBadge tone={warm === 0 ? 'settled' : 'stop'}>
          {warm === 0
            ? `never warmer than ${sayNumber(log.thresholdC)} °C`
            : `${countOf(warm, 'warm spell')}, ${saySpell(log.minutesAbove)} above ${sayNumber(log.thresholdC)} °C`}
        </StateBadge>
        {log.gaps.length > 0 && (
          <StateBadge tone="attention">{countOf(log.gaps.length, 'gap')} without readings</StateBadge>
        )}
      </p>
      <Facts>
        <Fact term="Readings" note={log.fileName}>
          {sayNumber(log.readings)}
        </Fact>
        <Fact term="Coldest">
          <NumberWithUnit value={log.coldestC} unit="°C" decimals={1} />
        </Fact>
        <Fact term="Mean">
          <NumberWithUnit value={log.meanC} unit="°C" decimals={1} />
        </Fact>
        <Fact term="Warmest">
          <NumberWithUnit value={log.warmestC} unit="°C" decimals={1} />
        </Fact>
        <Fact term="Mean kinetic temperature" note={log.kineticRemark} wide>
          {log.kineticMeanC === null ? (
            'not given'
          ) : (
            <NumberWithUnit value={log.kineticMeanC} unit="°C" decimals={1} />
          )}
        </Fact>
      </Facts>
      {warm > 0 && <Spells log={log} />}
      {log.gaps.length > 0 && (
        <ul className={classes.list} aria-label="Gaps without readings">
          {log.gaps.slice(0, 20).map((gap) => (
            <li key={gap.fromAt}>
              No reading for {saySpell(gap.minutes)} from <Moment at={gap.fromAt} show="both" />: nobody knows
              what happened in it.
            </li>
          ))}
        </ul>
      )}
      {log.remarks.length > 0 && (
        <details>
          <summary>{countOf(log.remarks.length, 'remark')} on the file</summary>
          <ul className={classes.list}>
            {log.remarks.map((remark) => (
              <li key={`${remark.line} ${remark.message}`}>
                Line {remark.line}: {remark.message}
              </li>
            ))}
          </ul>
        </details>
      )}
      {warm > 0 && <ExposedVials logId={log.id} />}
    </article>
  );
}

function Spells({ log }: { log: LogRow }) {
  return (
    <table className={classes.spells}>
      <caption className="f-hidden">Warm spells</caption>
      <thead>
        <tr>
          <th scope="col">From</th>
          <th scope="col">Until</th>
          <th scope="col" data-numeric>
            Lasted
          </th>
          <th scope="col" data-numeric>
            Warmest
          </th>
        </tr>
      </thead>
      <tbody>
        {log.excursions.slice(0, 50).map((spell) => (
          <tr key={spell.fromAt}>
            <td>
              <Moment at={spell.fromAt} show="both" />
            </td>
            <td>
              <Moment at={spell.toAt} show="both" />
              {spell.isOpenEnded && ', or later: the log breaks off'}
            </td>
            <td data-numeric>{saySpell(spell.minutes)}</td>
            <td data-numeric>{sayNumber(spell.peakC, 1)} °C</td>
          </tr>
        ))}
      </tbody>
    </table>
  );
}
