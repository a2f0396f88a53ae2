'use client';

import { Button, NumberInput } from '@mantine/core';
import { useDebouncedValue } from '@mantine/hooks';
import { useQuery } from '@tanstack/react-query';
import { useState } from 'react';
import { EmptyState } from '@/components/ui/empty-state';
import { ErrorState } from '@/components/ui/error-state';
import { Section } from '@/components/ui/facts';
import { Loading } from '@/components/ui/loading';
import { sayNumber } from '@/components/ui/number-with-unit';
import { DeskHead } from '@/components/ui/page-head';
import { countOf } from '@/components/ui/words';
import { queryString } from '@/lib/platform/api';
import { sayDay } from '@/lib/platform/say-dates';
import type { BacklogForecast, ForecastShape } from '@/lib/queue/forecast-wire';
import { ForecastBand } from './forecast-band';
import { ForecastTable } from './forecast-table';
import { forecastOptions } from './plan-queries';

const MONTHS = ['Jan', 'Feb', 'Mar', 'Apr', 'May', 'Jun', 'Jul', 'Aug', 'Sep', 'Oct', 'Nov', 'Dec'];
const people = (count: number) => countOf(Math.abs(count), 'person', 'people');
const moreOf = (extra: number) => `${people(extra)} ${extra > 0 ? 'more' : 'fewer'}`;

/** When the backlog clears, under what was seen so far, and with more people. */
export function ForecastDesk() {
  const [extra, setExtra] = useState<number | string>(0);
  const [settled] = useDebouncedValue(extra, 300);
  const query = { extra: typeof settled === 'number' ? settled : 0, weeks: 104 };
  const { data, error, refetch, isFetching } = useQuery(forecastOptions(query));
  if (data === undefined)
    return error === null ? (
      <Loading what="Simulating the coming weeks" />
    ) : (
      <ErrorState error={error} onRetry={refetch} />
    );
  const { today, changed } = data;
  return (
    <>
      <DeskHead
        title="Forecast"
        lede={today === null ? data.obstacle : sayClearing(today)}
        acts={
          today === null ? null : (
            <Button component="a" href={`/api/queue/forecast/table${queryString(query)}`} variant="default">
              Weeks as CSV
            </Button>
          )
        }
        figures={figuresOf(data)}
      />
      {error === null ? null : <ErrorState error={error} onRetry={refetch} />}
      {today === null ? (
        <EmptyState title="Nothing to go by yet">
          <p>The forecast learns intake and pace from received and finished birds.</p>
        </EmptyState>
      ) : (
        <>
          <Section
            id="what-if"
            title="What if"
            note="People of the pace seen so far, from now on. The same random numbers as for today's course."
          >
            <NumberInput
              label="People more (or fewer)"
              min={-50}
              max={50}
              value={extra}
              onChange={setExtra}
              maw={220}
            />
            <p aria-live="polite">
              {isFetching
                ? 'Simulating…'
                : changed === null
                  ? sayClearing(today)
                  : `With ${moreOf(data.extra)}: ${sayClearing(changed)}`}
            </p>
          </Section>
          <Section id="course" title="Birds waiting, week by week" note={sayBasis(today, data)}>
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
    { id: 'backlog', label: 'Not prepared yet', value: backlog, unit: 'birds' },
    ...(learned === null
      ? []
      : [
          { id: 'received', label: `Received since ${sayDay(learned.from)}`, value: learned.received },
          { id: 'prepared', label: 'Prepared in that time', value: learned.prepared },
          {
            id: 'pace',
            label: 'One person finishes',
            value: sayNumber(learned.birdsPerPersonWeek, 1),
            unit: 'a week',
          },
        ]),
    ...(last === undefined
      ? []
      : [
          {
            id: 'later',
            label: `Waiting on ${sayDay(last.on)}`,
            value: `${Math.round(last.p5)}–${Math.round(last.p95)}`,
            note: 'nine runs in ten',
          },
        ]),
  ];
}

function sayClearing({ clears, weeks, runs }: ForecastShape): string {
  const end = sayDay(weeks.at(-1)?.on ?? '');
  const share = Math.round(100 * (weeks.at(-1)?.clearedShare ?? 0));
  if (clears.middle === null)
    return `The backlog is not cleared by ${end} in most of ${sayNumber(runs)} runs (${share} % clear it).`;
  const late = clears.late === null ? `after ${end}` : `by ${sayDay(clears.late)}`;
  return `The backlog is first empty around ${sayDay(clears.middle)}: one run in ten by ${sayDay(clears.early ?? clears.middle)}, nine in ten ${late}.`;
}

const sayBasis = (today: ForecastShape, { seed }: BacklogForecast) =>
  `${sayNumber(today.runs)} simulated runs, seed ${seed}. Dark band: half of the runs; light band: nine in ten. Intake and pace are as seen so far; the fewer records, the wider the band.`;

function sayLittle({ little }: ForecastShape): string {
  if (little.waitWeeks === null) return 'No bird leaves the backlog in these runs.';
  return `Little's law: ${sayNumber(Math.round(little.meanBacklog))} birds waiting on average, ${sayNumber(little.leavingPerWeek, 1)} leaving a week, so a bird waits ${sayNumber(little.waitWeeks, 1)} weeks on average (exact only where the backlog neither grows nor shrinks).`;
}

function Learned({ learned }: { learned: BacklogForecast['learned'] }) {
  if (learned === null) return null;
  const rows = [
    ['Birds received a week', learned.intakePerWeek],
    ['People at work', learned.people],
  ] as const;
  return (
    <Section
      id="learned"
      title="Learned by month"
      note={`From ${sayDay(learned.from)} to ${sayDay(learned.until)}. A month seen only briefly is drawn towards the whole period.`}
    >
      <div style={{ overflowX: 'auto' }}>
        <table>
          <thead>
            <tr>
              <th scope="col">Month</th>
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
