'use client';

import { useQuery } from '@tanstack/react-query';
import { ExposedVials } from '@/components/tissues/exposed-vials';
import { EmptyState } from '@/components/ui/empty-state';
import { ErrorState } from '@/components/ui/error-state';
import { Fact, Facts } from '@/components/ui/facts';
import { Loading } from '@/components/ui/loading';
import { Moment } from '@/components/ui/moment';
import { NumberWithUnit } from '@/components/ui/number-with-unit';
import { sayWith } from '@/components/ui/say-with';
import { StateBadge } from '@/components/ui/state-badge';
import { countOf, say } from '@/lib/platform/words/say';
import { sayNumber } from '@/lib/platform/words/say-number';
import type { UnitRecord } from '@/lib/storage/wire';
import type { LogRow } from '@/lib/storage/wire-logs';
import classes from './freezer-logs.module.css';
import { LoadLog } from './load-log';
import { logsOptions } from './queries';

/** Hours and minutes of a spell: "2 h 10 min". */
export function saySpell(minutes: number): string {
  const whole = Math.round(minutes);
  const hours = Math.floor(whole / 60);
  return hours === 0
    ? say('{whole} min', { whole })
    : `${hours} h${whole % 60 === 0 ? '' : say(' {whole} min', { whole: whole % 60 })}`;
}

/** The temperature logs of a freezer: warm spells, gaps, and the vials that were there meanwhile. */
export function FreezerLogs({ unit }: { unit: UnitRecord }) {
  const logs = useQuery(logsOptions(unit.id));
  if (logs.error) {
    return (
      <ErrorState
        what={say('The logs could not be loaded.')}
        error={logs.error}
        onRetry={() => void logs.refetch()}
      />
    );
  }
  if (logs.data === undefined) return <Loading what={say('Loading the logs')} />;
  return (
    <>
      {logs.data.mayLoad && <LoadLog unit={unit} />}
      {logs.data.rows.length === 0 ? (
        <EmptyState title={say('No log read yet')}>
          <p>
            {say("Save the readings of the freezer's logger as a table with its times, and read it here.")}
          </p>
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
        {sayWith('{moment} to {moment2}', {
          moment: <Moment at={log.fromAt} />,
          moment2: <Moment at={log.toAt} />,
        })}
      </h3>
      <p>
        <StateBadge tone={warm === 0 ? 'settled' : 'stop'}>
          {warm === 0
            ? say('never warmer than {number} °C', { number: sayNumber(log.thresholdC) })
            : say('{of}, {spell} above {number} °C', {
                of: countOf(warm, 'warm spell'),
                spell: saySpell(log.minutesAbove),
                number: sayNumber(log.thresholdC),
              })}
        </StateBadge>
        {log.gaps.length > 0 && (
          <StateBadge tone="attention">
            {say('{of} without readings', { of: countOf(log.gaps.length, 'gap') })}
          </StateBadge>
        )}
      </p>
      <Facts>
        <Fact term={say('Readings')} note={log.fileName}>
          {sayNumber(log.readings)}
        </Fact>
        <Fact term={say('Coldest')}>
          <NumberWithUnit value={log.coldestC} unit="°C" decimals={1} />
        </Fact>
        <Fact term={say('Mean')}>
          <NumberWithUnit value={log.meanC} unit="°C" decimals={1} />
        </Fact>
        <Fact term={say('Warmest')}>
          <NumberWithUnit value={log.warmestC} unit="°C" decimals={1} />
        </Fact>
        <Fact term={say('Mean kinetic temperature')} note={log.kineticRemark} wide>
          {log.kineticMeanC === null ? (
            say('not given')
          ) : (
            <NumberWithUnit value={log.kineticMeanC} unit="°C" decimals={1} />
          )}
        </Fact>
      </Facts>
      {warm > 0 && <Spells log={log} />}
      {log.gaps.length > 0 && (
        <ul className={classes.list} aria-label={say('Gaps without readings')}>
          {log.gaps.slice(0, 20).map((gap) => (
            <li key={gap.fromAt}>
              {sayWith('No reading for {spell} from {moment}: nobody knows what happened in it.', {
                spell: saySpell(gap.minutes),
                moment: <Moment at={gap.fromAt} show="both" />,
              })}
            </li>
          ))}
        </ul>
      )}
      {log.remarks.length > 0 && (
        <details>
          <summary>{say('{of} on the file', { of: countOf(log.remarks.length, 'remark') })}</summary>
          <ul className={classes.list}>
            {log.remarks.map((remark) => (
              <li key={`${remark.line} ${remark.message}`}>
                {say('Line {line}: {message}', { line: remark.line, message: remark.message })}
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
      <caption className="f-hidden">{say('Warm spells')}</caption>
      <thead>
        <tr>
          <th scope="col">{say('From')}</th>
          <th scope="col">{say('Until')}</th>
          <th scope="col" data-numeric>
            {say('Lasted')}
          </th>
          <th scope="col" data-numeric>
            {say('Warmest')}
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
              {spell.isOpenEnded && say(', or later: the log breaks off')}
            </td>
            <td data-numeric>{saySpell(spell.minutes)}</td>
            <td data-numeric>{sayNumber(spell.peakC, 1)} °C</td>
          </tr>
        ))}
      </tbody>
    </table>
  );
}
