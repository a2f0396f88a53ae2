'use client';

import { NativeSelect } from '@mantine/core';
import { useQuery } from '@tanstack/react-query';
import dynamic from 'next/dynamic';
import { ErrorState } from '@/components/ui/error-state';
import { Loading } from '@/components/ui/loading';
import { DeskHead } from '@/components/ui/page-head';
import { useListAddress } from '@/components/ui/use-list-address';
import type { NumbersAnswer } from '@/lib/catalogue/figures-wire';
import { sayDay } from '@/lib/platform/say-dates';
import { countOf, say } from '@/lib/platform/words/say';
import { numbersOptions } from './queries';

const Charts = dynamic(() => import('./lab-charts').then(({ LabCharts }) => LabCharts), {
  ssr: false,
  loading: () => <Loading what={say('Drawing the charts')} lines={8} />,
});

const YEARS = [1, 3, 5, 10, 20];

/** The lab's own numbers: what came in, what was prepared, what lies in the freezer, what waits. */
export function LabNumbers({ years }: { years: number }) {
  const address = useListAddress();
  const { data, error, refetch } = useQuery(numbersOptions({ years }));
  return (
    <>
      <DeskHead
        title={say('The lab in numbers')}
        lede={
          data === undefined
            ? undefined
            : say('From {day} to {day2}.', { day: sayDay(data.from), day2: sayDay(data.until) })
        }
        acts={
          <NativeSelect
            label={say('Back to')}
            value={String(years)}
            onChange={(event) => address.filter({ years: event.currentTarget.value })}
            data={[...new Set([...YEARS, years])].map((count) => ({
              value: String(count),
              label: countOf(count, 'year'),
            }))}
          />
        }
        figures={data === undefined ? [] : figuresOf(data)}
      />
      {error === null ? null : <ErrorState error={error} onRetry={() => void refetch()} />}
      {data === undefined ? (
        error === null ? (
          <Loading what={say('Counting')} lines={8} />
        ) : null
      ) : (
        <Charts data={data} />
      )}
    </>
  );
}

const sumOf = (rows: NumbersAnswer['intake']['rows']) =>
  rows.reduce((sum, { counts }) => sum + counts.reduce((all, count) => all + count, 0), 0);

function figuresOf({ intake, prepared, freezer, backlog }: NumbersAnswer) {
  return [
    { id: 'received', label: say('Received'), value: sumOf(intake.rows), unit: say('birds') },
    { id: 'prepared', label: say('Prepared'), value: sumOf(prepared.rows), unit: say('birds') },
    {
      id: 'freezer',
      label: say('In the freezer'),
      value: freezer.reduce((sum, { count }) => sum + count, 0),
      unit: say('birds'),
    },
    {
      id: 'waiting',
      label: say('Not prepared yet'),
      value: backlog.at(-1)?.waiting ?? 0,
      unit: say('birds'),
    },
  ];
}
