// @vitest-environment jsdom
import { screen, within } from '@testing-library/react';
import { parse } from 'csv-parse/sync';
import { describe, expect, test } from 'vitest';
import { ChartFigure } from '@/components/ui/charts/chart-figure';
import { Course } from '@/components/ui/charts/course';
import {
  countTicks,
  crossFigures,
  csvAddress,
  figuresToCsv,
  labelEvery,
} from '@/components/ui/charts/figures';
import { QuartileBoxes } from '@/components/ui/charts/quartile-boxes';
import { LyingBars, StackedBars } from '@/components/ui/charts/stacked-bars';
import { show } from './render';

const series = ['Window strike', 'Cat'];
const rows = [
  { label: 'Mar', counts: [3, 1] },
  { label: 'Apr', counts: [0, 0] },
];
const figures = crossFigures('months', 'Month', series, rows);

describe('figures as a file', () => {
  test('a reader of CSV gets the same cells, whatever is in them', () => {
    const names = ['Plain', 'with, comma', 'with "marks"', 'two\nlines', '♀ žluť'];
    const made = crossFigures(
      'x',
      'Name',
      ['Birds'],
      names.map((label, at) => ({ label, counts: [at] })),
    );
    const read = parse(figuresToCsv(made), { bom: true, record_delimiter: '\r\n' });
    expect(read).toEqual([['Name', 'Birds'], ...names.map((label, at) => [label, String(at)])]);
  });
  test.each(['=1+1', '+1', '-1', '@a', '\tx'])('%j is no formula for a spreadsheet', (label) => {
    const made = crossFigures('x', 'Name', ['Birds'], [{ label, counts: [1] }]);
    expect(parse(figuresToCsv(made), { bom: true })[1]).toEqual([`'${label}`, '1']);
  });
  test('several series have their sum', () => {
    expect(figures.columns.map(({ label }) => label)).toEqual(['Month', ...series, 'Together']);
    expect(figures.rows).toEqual([
      ['Mar', 3, 1, 4],
      ['Apr', 0, 0, 0],
    ]);
  });
});

test.each([
  [0, [0, 1]],
  [1, [0, 1]],
  [5, [0, 1, 2, 3, 4, 5]],
  [6, [0, 2, 4, 6]],
  [43, [0, 10, 20, 30, 40, 50]],
  [251, [0, 100, 200, 300]],
])('ticks up to %i', (most, expected) => expect(countTicks(most)).toEqual(expected));

test.each([
  [12, 12, 1],
  [37, 12, 4],
  [0, 12, 1],
])('%i labels with room for %i: every %i', (count, room, every) =>
  expect(labelEvery(count, room)).toBe(every),
);

describe('a chart', () => {
  test('has its words, its key, its figures and a file beside the drawing', () => {
    show(
      <ChartFigure title="Months" summary="4 birds." series={series} hatchId="h" figures={figures}>
        <StackedBars rows={rows} series={series} hatchId="h" summary="Months. 4 birds." />
      </ChartFigure>,
    );
    const figure = screen.getByRole('figure', { name: 'Months' });
    expect(within(figure).getByRole('img', { name: 'Months. 4 birds.' })).toBeTruthy();
    expect(within(within(figure).getByRole('list', { name: 'Key' })).getAllByRole('listitem')).toHaveLength(
      2,
    );
    const cells = [...figure.querySelectorAll('tbody tr')].map((row) =>
      [...row.children].map((cell) => cell.textContent),
    );
    expect(cells).toEqual([
      ['Mar', '3', '1', '4'],
      ['Apr', '0', '0', '0'],
    ]);
    const link = within(figure).getByRole('link', { name: 'As CSV: Months' });
    expect(link.getAttribute('href')).toBe(csvAddress(figures));
    expect(link.getAttribute('download')).toBe('months.csv');
  });

  test('stacks its bars without a gap, each series with a mark of its own', () => {
    const { container } = show(<StackedBars rows={rows} series={series} hatchId="h" summary="s" />);
    const bars = [...container.querySelectorAll('rect')].map((bar) => ({
      y: Number(bar.getAttribute('y')),
      height: Number(bar.getAttribute('height')),
      fill: bar.getAttribute('fill'),
    }));
    expect(bars).toHaveLength(2);
    expect(bars.map(({ fill }) => fill)).toEqual(['url(#h-0)', 'url(#h-1)']);
    const [lower, upper] = bars;
    expect((upper?.y ?? 0) + (upper?.height ?? 0)).toBeCloseTo(lower?.y ?? Number.NaN, 6);
    expect((lower?.height ?? 0) / (upper?.height ?? 1)).toBeCloseTo(3, 6);
  });

  test('lies down where names are long', () => {
    const { container } = show(<LyingBars rows={rows} series={series} hatchId="h" summary="s" />);
    expect(
      [...container.querySelectorAll('rect')].map((bar) => [
        bar.getAttribute('x'),
        bar.getAttribute('width'),
      ]),
    ).toEqual([
      ['0%', '75%'],
      ['75%', '25%'],
    ]);
  });

  test('of quartiles draws each group in its place, one value alone, too', () => {
    const one = {
      label: 'Female',
      series: 0,
      count: 1,
      least: 128,
      lowerQuartile: 128,
      median: 128,
      upperQuartile: 128,
      most: 128,
    };
    const { container } = show(<QuartileBoxes rows={[one]} unit="mm" hatchId="h" summary="s" />);
    const places = [...container.querySelectorAll('[x1]')].map((line) =>
      Number.parseFloat(line.getAttribute('x1') ?? ''),
    );
    expect(places.every((place) => place >= 0 && place <= 100)).toBe(true);
    expect(screen.getByRole('img', { name: 's' })).toBeTruthy();
  });

  test('of a course has a point for each month', () => {
    const points = [5, 2, 6].map((value, at) => ({ label: `M${at}`, value }));
    const { container } = show(<Course points={points} summary="s" />);
    const heights = [...container.querySelectorAll('circle')].map((point) =>
      Number(point.getAttribute('cy')),
    );
    expect(heights).toHaveLength(3);
    expect(heights[2]).toBeLessThan(heights[0] ?? 0);
    expect(heights[0]).toBeLessThan(heights[1] ?? 0);
  });
});
