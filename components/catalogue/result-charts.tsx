'use client';

import { useQuery } from '@tanstack/react-query';
import { useId } from 'react';
import { ChartFigure } from '@/components/ui/charts/chart-figure';
import { crossFigures } from '@/components/ui/charts/figures';
import { plainId } from '@/components/ui/charts/hatches';
import { QuartileBoxes } from '@/components/ui/charts/quartile-boxes';
import { LyingBars, StackedBars } from '@/components/ui/charts/stacked-bars';
import { EmptyState } from '@/components/ui/empty-state';
import { ErrorState } from '@/components/ui/error-state';
import { Loading } from '@/components/ui/loading';
import { type ChartsAnswer, MEASURES, type MeasureId } from '@/lib/catalogue/figures-wire';
import { SEXES } from '@/lib/catalogue/schema';
import { MONTHS } from '@/lib/platform/say-dates';
import { countOf, say, sayCode, sayWord } from '@/lib/platform/words/say';
import { chartsOptions } from './queries';
import { type CrossChart, crossChart, measureChart, saySexRatio } from './say-figures';

/** The hits of a search as charts, each with its figures. */
export function ResultCharts({ q }: { q: string }) {
  const { data, error, refetch } = useQuery(chartsOptions(q));
  if (data === undefined)
    return error === null ? (
      <Loading what={say('Counting')} lines={8} />
    ) : (
      <ErrorState error={error} onRetry={() => void refetch()} />
    );
  if (data.total === 0)
    return (
      <EmptyState title={say('No bird fits')}>
        <p>{say('Take a word away, or look under “How to ask”.')}</p>
      </EmptyState>
    );
  const measured = MEASURES.filter((field) => data.measures.some((one) => one.field === field));
  return (
    <>
      <CrossFigure
        title={say('Month found, by suspected cause')}
        chart={crossChart(data.months, {
          name: 'months-by-cause',
          first: say('Month'),
          sayKey: (key) => MONTHS[Number(key) - 1] ?? String(key),
        })}
        note={sayUnknown(data.months.unknown, 'month')}
      />
      <CrossFigure
        title={say('Year found, by sex')}
        chart={crossChart(data.years, { name: 'years-by-sex', first: say('Year'), sayKey: String })}
        note={sayUnknown(data.years.unknown, 'year')}
      />
      <SexFigure sexes={data.sexes} />
      {measured.map((field) => (
        <MeasureFigure key={field} field={field} data={data} />
      ))}
      {measured.length === 0 ? (
        <p>{say('None of these birds has a mass, wing, tail or tarsus yet.')}</p>
      ) : null}
    </>
  );
}

const sayUnknown = (count: number, what: string): string | undefined =>
  count === 0
    ? undefined
    : say('Beside these, {of} whose {what} of finding is not known.', {
        of: countOf(count, 'bird'),
        what: sayCode(what),
      });

/** Upright bars of counts with their figures. */
export function CrossFigure({ title, chart, note }: { title: string; chart: CrossChart; note?: string }) {
  const hatchId = plainId(useId());
  const { series, rows, figures, summary } = chart;
  return (
    <ChartFigure
      title={title}
      summary={summary}
      note={note}
      series={series}
      hatchId={hatchId}
      figures={figures}
    >
      <StackedBars rows={rows} series={series} hatchId={hatchId} summary={`${title}. ${summary}`} />
    </ChartFigure>
  );
}

function SexFigure({ sexes }: { sexes: ChartsAnswer['sexes'] }) {
  const hatchId = plainId(useId());
  const rows = SEXES.map((sex, at) => ({
    label: sayWord(sex),
    counts: SEXES.map((_, other) => (other === at ? sexes[sex] : 0)),
  }));
  const summary = saySexRatio(sexes);
  return (
    <ChartFigure
      title={say('Sexes')}
      summary={summary}
      note={say(
        'A collection of found birds is no sample of a population: what dies at windows and roads has its own ratio.',
      )}
      hatchId={hatchId}
      figures={crossFigures(
        'sexes',
        say('Sex'),
        [say('Birds')],
        SEXES.map((sex) => ({ label: sayWord(sex), counts: [sexes[sex]] })),
      )}
    >
      <LyingBars
        rows={rows}
        series={SEXES.map(sayWord)}
        hatchId={hatchId}
        summary={say('Sexes. {summary}', { summary })}
      />
    </ChartFigure>
  );
}

function MeasureFigure({ field, data }: { field: MeasureId; data: ChartsAnswer }) {
  const hatchId = plainId(useId());
  const { label, unit, rows, figures, summary } = measureChart(field, data.measures, SEXES);
  const mixed =
    data.taxa > 1
      ? say('{of} of bird together: narrow the search to one to compare. ', {
          of: countOf(data.taxa, 'kind'),
        })
      : '';
  return (
    <ChartFigure
      title={`${label}, ${unit}`}
      summary={summary}
      note={say('{mixed}Line: least to most; box: the middle half; bar: median. All methods together.', {
        mixed,
      })}
      hatchId={hatchId}
      figures={figures}
    >
      <QuartileBoxes rows={rows} unit={unit} hatchId={hatchId} summary={`${label}. ${summary}`} />
    </ChartFigure>
  );
}
