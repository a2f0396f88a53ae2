'use client';

import { Button, NumberInput } from '@mantine/core';
import { useDebouncedValue } from '@mantine/hooks';
import { useQuery } from '@tanstack/react-query';
import { useState } from 'react';
import { EmptyState } from '@/components/ui/empty-state';
import { ErrorState } from '@/components/ui/error-state';
import { Section } from '@/components/ui/facts';
import { whenSeen } from '@/components/ui/later';
import { Loading } from '@/components/ui/loading';
import { DeskHead } from '@/components/ui/page-head';
import { queryString } from '@/lib/platform/api';
import { MONTHS, sayDay } from '@/lib/platform/say-dates';
import { countOf, say } from '@/lib/platform/words/say';
import { sayNumber } from '@/lib/platform/words/say-number';
import type { BacklogForecast, ForecastShape } from '@/lib/queue/forecast-wire';
import { ForecastBand } from './forecast-band';
import { forecastOptions } from './forecast-queries';

const ForecastTable = whenSeen(() => import('./forecast-table').then((module) => module.ForecastTable), 8);

const people = (count: number) => countOf(Math.abs(count), 'person', 'people');
const moreOf = (extra: number) =>
  extra > 0
    ? say('{people} more', { people: people(extra) })
    : say('{people} fewer', { people: people(extra) });

/** When the backlog clears, under what was seen so far, and with more people. */
export function ForecastDesk() {
  const [extra, setExtra] = useState<number | string>(0);
  const [settled] = useDebouncedValue(extra, 300);
  const query = { extra: typeof settled === 'number' ? settled : 0, weeks: 104 };
  const { data, error, refetch, isFetching } = useQuery(forecastOptions(query));
  if (data === undefined)
    return error === null ? (
      <Loading what={say('Simulating the coming weeks')} />
    ) : (
      <ErrorState error={error} onRetry={refetch} />
    );
  const { today, changed } = data;
  return (
    <>
      <DeskHead
        title={say('Forecast')}
        lede={today === null ? data.obstacle : sayClearing(today)}
        acts={
          today === null ? null : (
            <Button component="a" href={`/api/queue/forecast/table${queryString(query)}`} variant="default">
              {say('Weeks as CSV')}
            </Button>
          )
        }
        figures={figuresOf(data)}
      />
      {error === null ? null : <ErrorState error={error} onRetry={refetch} />}
      {today === null ? (
        <EmptyState title={say('Nothing to go by yet')}>
          <p>{say('The forecast learns intake and pace from received and finished birds.')}</p>
        </EmptyState>
      ) : (
        <>
          <Section
            id="what-if"
            title={say('What if')}
            note={say(
              "People of the pace seen so far, from now on. The same random numbers as for today's course.",
            )}
          >
            <NumberInput
              label={say('People more (or fewer)')}
              min={-50}
              max={50}
              value={extra}
              onChange={setExtra}
              maw={220}
            />
            <p aria-live="polite">
              {isFetching
                ? say('Simulating…')
                : changed === null
                  ? sayClearing(today)
                  : say('With {moreOf}: {clearing}', {
                      moreOf: moreOf(data.extra),
                      clearing: sayClearing(changed),
                    })}
            </p>
          </Section>
          <Section id="course" title={say('Birds waiting, week by week')} note={sayBasis(today, data)}>
            <ForecastBand today={today} changed={changed} changedLabel={moreOf(data.extra)} />
            <p>{sayLittle(today)}</p>
            <ForecastTable today={today} changed={changed} changedLabel={moreOf(data.extra)} />
          </Section>
          <Learned learned={data.learned} />
        </>
      )}
    </>
  );
}

function figuresOf({ backlog, learned, today }: BacklogForecast) {
  const last = today?.weeks.at(-1);
  return [
    { id: 'backlog', label: say('Not prepared yet'), value: backlog, unit: say('birds') },
    ...(learned === null
      ? []
      : [
          {
            id: 'received',
            label: say('Received since {day}', { day: sayDay(learned.from) }),
            value: learned.received,
          },
          { id: 'prepared', label: say('Prepared in that time'), value: learned.prepared },
          {
            id: 'pace',
            label: say('One person finishes'),
            value: sayNumber(learned.birdsPerPersonWeek, 1),
            unit: 'a week',
          },
        ]),
    ...(last === undefined
      ? []
      : [
          {
            id: 'later',
            label: say('Waiting on {day}', { day: sayDay(last.on) }),
            value: `${Math.round(last.p5)}–${Math.round(last.p95)}`,
            note: say('nine runs in ten'),
          },
        ]),
  ];
}

function sayClearing({ clears, weeks, runs }: ForecastShape): string {
  const end = sayDay(weeks.at(-1)?.on ?? '');
  const share = Math.round(100 * (weeks.at(-1)?.clearedShare ?? 0));
  if (clears.middle === null)
    return say('The backlog is not cleared by {end} in most of {number} runs ({share} % clear it).', {
      end,
      number: sayNumber(runs),
      share,
    });
  const late =
    clears.late === null ? say('after {end}', { end }) : say('by {day}', { day: sayDay(clears.late) });
  return say('The backlog is first empty around {day}: one run in ten by {day2}, nine in ten {late}.', {
    day: sayDay(clears.middle),
    day2: sayDay(clears.early ?? clears.middle),
    late,
  });
}

const sayBasis = (today: ForecastShape, { seed }: BacklogForecast) =>
  say(
    '{number} simulated runs, seed {seed}. Dark band: half of the runs; light band: nine in ten. Intake and pace are as seen so far; the fewer records, the wider the band.',
    { number: sayNumber(today.runs), seed },
  );

function sayLittle({ little }: ForecastShape): string {
  if (little.waitWeeks === null) return say('No bird leaves the backlog in these runs.');
  return say(
    "Little's law: {number} birds waiting on average, {number2} leaving a week, so a bird waits {number3} weeks on average (exact only where the backlog neither grows nor shrinks).",
    {
      number: sayNumber(Math.round(little.meanBacklog)),
      number2: sayNumber(little.leavingPerWeek, 1),
      number3: sayNumber(little.waitWeeks, 1),
    },
  );
}

function Learned({ learned }: { learned: BacklogForecast['learned'] }) {
  if (learned === null) return null;
  const rows = [
    [say('Birds received a week'), learned.intakePerWeek],
    [say('People at work'), learned.people],
  ] as const;
  return (
    <Section
      id="learned"
      title={say('Learned by month')}
      note={say('From {day} to {day2}. A month seen only briefly is drawn towards the whole period.', {
        day: sayDay(learned.from),
        day2: sayDay(learned.until),
      })}
    >
      <div style={{ overflowX: 'auto' }}>
        <table>
          <thead>
            <tr>
              <th scope="col">{say('Month')}</th>
              {MONTHS.map((month) => (
                <th key={month} scope="col">
                  {month}
                </th>
              ))}
            </tr>
          </thead>
          <tbody>
            {rows.map(([label, values]) => (
              <tr key={label}>
                <th scope="row">{label}</th>
                {MONTHS.map((month, at) => (
                  <td key={month} style={{ textAlign: 'right', padding: '4px 8px' }}>
                    {sayNumber(values[at] ?? 0, 1)}
                  </td>
                ))}
              </tr>
            ))}
          </tbody>
        </table>
      </div>
    </Section>
  );
}
