'use client';

import { useId } from 'react';
import { ChartFigure } from '@/components/ui/charts/chart-figure';
import { Course } from '@/components/ui/charts/course';
import { crossFigures } from '@/components/ui/charts/figures';
import { plainId } from '@/components/ui/charts/hatches';
import { LyingBars } from '@/components/ui/charts/stacked-bars';
import type { NumbersAnswer } from '@/lib/catalogue/figures-wire';
import { countOf, say } from '@/lib/platform/words/say';
import { CrossFigure } from './result-charts';
import { crossChart, sayMonth } from './say-figures';

/** The lab's numbers as charts, each with its figures. */
export function LabCharts({ data }: { data: NumbersAnswer }) {
  return (
    <>
      <CrossFigure
        title={say('Received, by month and suspected cause')}
        chart={crossChart(data.intake, {
          name: 'received-by-month-and-cause',
          first: say('Month'),
          sayKey: (key) => sayMonth(String(key)),
        })}
      />
      <PreparedFigure prepared={data.prepared} />
      <FreezerFigure freezer={data.freezer} />
      <BacklogFigure data={data} />
    </>
  );
}

function PreparedFigure({ prepared }: { prepared: NumbersAnswer['prepared'] }) {
  const hatchId = plainId(useId());
  const title = say('Prepared, by person and style');
  const { series, rows, figures, summary } = crossChart(prepared, {
    name: 'prepared-by-person-and-style',
    first: say('Person'),
    sayKey: String,
  });
  return (
    <ChartFigure title={title} summary={summary} series={series} hatchId={hatchId} figures={figures}>
      <LyingBars rows={rows} series={series} hatchId={hatchId} summary={`${title}. ${summary}`} />
    </ChartFigure>
  );
}

function FreezerFigure({ freezer }: { freezer: NumbersAnswer['freezer'] }) {
  const hatchId = plainId(useId());
  const title = say('How long birds have been in the freezer');
  const rows = freezer.map(({ age, count }) => ({ label: age, counts: [count] }));
  const all = freezer.reduce((sum, { count }) => sum + count, 0);
  const top = [...freezer].sort((a, b) => b.count - a.count)[0];
  const summary =
    all === 0 || top === undefined
      ? say('No bird is in the freezer.')
      : say('{of} in the freezer; most {age} ({count}).', {
          of: countOf(all, 'bird'),
          age: top.age,
          count: top.count,
        });
  return (
    <ChartFigure
      title={title}
      summary={summary}
      hatchId={hatchId}
      figures={crossFigures('ages-in-the-freezer', say('In the freezer'), [say('Birds')], rows)}
    >
      <LyingBars rows={rows} series={[say('Birds')]} hatchId={hatchId} summary={`${title}. ${summary}`} />
    </ChartFigure>
  );
}

function BacklogFigure({ data: { backlog, undated } }: { data: NumbersAnswer }) {
  const hatchId = plainId(useId());
  const title = say('Birds not prepared yet, at the end of each month');
  const points = backlog.map(({ month, waiting }) => ({ label: sayMonth(month), value: waiting }));
  const [first, last] = [points[0], points.at(-1)];
  const summary =
    first === undefined || last === undefined
      ? say('Nothing to count.')
      : say('{of} at the end of {label}, {of2} now.', {
          of: countOf(first.value, 'bird'),
          label: first.label,
          of2: countOf(last.value, 'bird'),
        });
  return (
    <ChartFigure
      title={title}
      summary={summary}
      note={
        undated === 0
          ? undefined
          : say('Left out: {of} that left on a day nobody wrote down.', { of: countOf(undated, 'bird') })
      }
      hatchId={hatchId}
      figures={{
        name: 'backlog-by-month',
        columns: [
          { label: say('Month') },
          { label: say('Received'), numeric: true },
          { label: say('Prepared or left'), numeric: true },
          { label: say('Waiting at its end'), numeric: true },
        ],
        rows: backlog.map(({ month, received, left, waiting }) => [sayMonth(month), received, left, waiting]),
      }}
    >
      <Course points={points} summary={`${title}. ${summary}`} />
    </ChartFigure>
  );
}
