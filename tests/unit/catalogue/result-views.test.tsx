// @vitest-environment jsdom
import { QueryClient, QueryClientProvider } from '@tanstack/react-query';
import { fireEvent, screen, waitFor, within } from '@testing-library/react';
import type { ReactNode } from 'react';
import { beforeEach, describe, expect, test, vi } from 'vitest';

const address = vi.hoisted(() => ({ search: '', push: vi.fn() }));
vi.mock('next/navigation', () => ({
  useRouter: () => ({ push: address.push }),
  useSearchParams: () => new URLSearchParams(address.search),
}));
vi.mock('@mantine/hooks', async (load) => ({
  ...(await load<typeof import('@mantine/hooks')>()),
  useElementSize: () => ({ ref: () => {}, width: 1000, height: 600 }),
}));

import { LabCharts } from '@/components/catalogue/lab-charts';
import { chartsOptions, mapOptions } from '@/components/catalogue/queries';
import { ResultCharts } from '@/components/catalogue/result-charts';
import { ResultMap } from '@/components/catalogue/result-map';
import { ViewChoice, viewOf } from '@/components/catalogue/view-choice';
import { type ChartsAnswer, MAP_STEPS, type MapAnswer } from '@/lib/catalogue/figures-wire';
import { show } from '../ui/render';

const client = new QueryClient({ defaultOptions: { queries: { staleTime: Number.POSITIVE_INFINITY } } });
const within_ = (ui: ReactNode) => show(<QueryClientProvider client={client}>{ui}</QueryClientProvider>);
beforeEach(() => {
  client.clear();
  address.search = '';
  address.push.mockClear();
});

const answer: MapAnswer = {
  by: 'points',
  step: 1,
  marks: [
    {
      id: 'a',
      latitude: 40,
      longitude: -83,
      count: 9,
      coarse: 0,
      places: ['Franklin, Ohio'],
      terms: ['within:39..40/-83..-82'],
    },
    {
      id: 'b',
      latitude: 41,
      longitude: -82,
      count: 1,
      coarse: 1,
      places: ['Huron, Ohio'],
      terms: ['county:Huron', 'place:Ohio'],
    },
  ],
  total: 12,
  unplaced: 2,
  problems: [],
};

describe('the map', () => {
  beforeEach(() => {
    for (const step of MAP_STEPS) client.setQueryData(mapOptions({ q: 'robin', step }).queryKey, answer);
  });

  test('says in words what it shows, and lists its marks as links to the narrowed list', () => {
    address.search = 'q=robin&view=map&columns=number';
    within_(<ResultMap q="robin" />);
    expect(
      screen.getByRole('graphics-document', { name: /10 birds at 2 places.*2 birds without coordinates/ }),
    ).toBeTruthy();
    const list = within(screen.getByRole('region', { name: 'On the map' }));
    const links = list.getAllByRole('link').map((link) => {
      const at = new URL(link.getAttribute('href') ?? '', 'http://localhost');
      return {
        text: link.textContent,
        q: at.searchParams.get('q'),
        view: at.searchParams.get('view'),
        columns: at.searchParams.get('columns'),
      };
    });
    expect(links).toEqual([
      { text: 'Franklin, Ohio9 birds', q: 'robin within:39..40/-83..-82', view: null, columns: 'number' },
      {
        text: 'Huron, Ohio1 bird (1 coarse)',
        q: 'robin county:Huron place:Ohio',
        view: null,
        columns: 'number',
      },
    ]);
  });

  test('draws land, and a mark for each place, those at a coarser place with a pattern', async () => {
    const { container } = within_(<ResultMap q="robin" />);
    const drawing = screen.getByRole('graphics-document', { name: /10 birds/ });
    expect([...drawing.querySelectorAll('a circle')].map((mark) => mark.getAttribute('fill'))).toEqual([
      null,
      'url(#map-coarse)',
    ]);
    const lines = () => [...container.querySelectorAll('g path')].map((path) => path.getAttribute('d') ?? '');
    await waitFor(() => expect(lines().filter((line) => line.startsWith('M')).length).toBeGreaterThan(2), {
      timeout: 20_000,
    });
    expect(lines().join()).not.toContain('NaN');
  }, 30_000);

  test('comes nearer by its buttons and goes back to the whole', () => {
    const { container } = within_(<ResultMap q="robin" />);
    const scale = () =>
      /scale\((.+)\)/.exec(container.querySelector('g')?.getAttribute('transform') ?? '')?.[1];
    expect(scale()).toBe('1');
    fireEvent.click(screen.getByRole('button', { name: 'Nearer' }));
    expect(scale()).toBe('2');
    fireEvent.click(screen.getByRole('button', { name: 'All of it' }));
    expect(scale()).toBe('1');
  });

  test('a mark opens the list without loading the page anew', () => {
    within_(<ResultMap q="robin" />);
    const mark = screen.getByRole('graphics-document', { name: /10 birds/ }).querySelector('a');
    if (mark === null) throw new Error('no mark');
    fireEvent.click(mark);
    expect(address.push).toHaveBeenCalledTimes(1);
    expect(address.push.mock.calls[0]?.[0]).toContain('within');
  });

  test('of nothing says what to do', () => {
    for (const step of MAP_STEPS)
      client.setQueryData(mapOptions({ q: 'dodo', step }).queryKey, {
        ...answer,
        marks: [],
        total: 0,
        unplaced: 0,
      });
    within_(<ResultMap q="dodo" />);
    expect(screen.getByText('No bird fits')).toBeTruthy();
  });
});

const quartiles = { least: 120, lowerQuartile: 124, median: 126.5, upperQuartile: 128, most: 131 };
const charts: ChartsAnswer = {
  total: 12,
  taxa: 2,
  months: { series: ['window-strike', 'cat'], rows: [{ key: 4, counts: [7, 2] }], unknown: 3 },
  years: { series: ['female', 'male', 'undetermined'], rows: [{ key: 2024, counts: [6, 4, 2] }], unknown: 0 },
  sexes: { female: 6, male: 4, undetermined: 2, femaleShare: { share: 0.6, low: 0.3127, high: 0.8318 } },
  measures: [{ field: 'wingMm', sex: 'female', count: 6, ...quartiles }],
  problems: [],
};

test('the charts say their figures, what is not known, and that kinds are mixed', () => {
  client.setQueryData(chartsOptions('robin').queryKey, charts);
  within_(<ResultCharts q="robin" />);
  const names = screen.getAllByRole('figure').map((figure) => figure.getAttribute('aria-label'));
  expect(names).toEqual(['Month found, by suspected cause', 'Year found, by sex', 'Sexes', 'Wing, mm']);
  expect(screen.getByText(/60 % of the sexed birds are females \(95 % interval 31 % to 83 %\)/)).toBeTruthy();
  expect(screen.getByText(/3 birds whose month of finding is not known/)).toBeTruthy();
  expect(screen.getByText(/2 kinds of bird together/)).toBeTruthy();
  expect(screen.getByText('Female: median 126.5 mm of 6 birds.')).toBeTruthy();
});

test("the lab's numbers are four charts with their files", () => {
  within_(
    <LabCharts
      data={{
        from: '2026-01-01',
        until: '2026-02-10',
        intake: {
          series: ['cat'],
          rows: [
            { key: '2026-01', counts: [2] },
            { key: '2026-02', counts: [0] },
          ],
          unknown: 0,
        },
        prepared: { series: ['flat-skin'], rows: [{ key: 'Ada Quill', counts: [1] }], unknown: 0 },
        freezer: [{ age: 'under 3 months', count: 1 }],
        backlog: [
          { month: '2026-01', received: 2, left: 0, waiting: 2 },
          { month: '2026-02', received: 0, left: 1, waiting: 1 },
        ],
        undated: 4,
      }}
    />,
  );
  expect(screen.getAllByRole('figure')).toHaveLength(4);
  expect(
    screen.getAllByRole('link', { name: /^As CSV/ }).map((link) => link.getAttribute('download')),
  ).toEqual([
    'received-by-month-and-cause.csv',
    'prepared-by-person-and-style.csv',
    'ages-in-the-freezer.csv',
    'backlog-by-month.csv',
  ]);
  expect(screen.getByText('2 birds at the end of Jan 2026, 1 bird now.')).toBeTruthy();
  expect(screen.getByText(/4 birds that left on a day nobody wrote down/)).toBeTruthy();
});

test('the view is in the address', () => {
  address.search = 'q=robin&after=x&view=charts';
  within_(<ViewChoice view={viewOf('charts')} />);
  const hrefs = ['List', 'Map', 'Charts'].map((name) =>
    screen.getByRole('link', { name }).getAttribute('href'),
  );
  expect(hrefs).toEqual([
    '/catalogue?q=robin',
    '/catalogue?q=robin&view=map',
    '/catalogue?q=robin&view=charts',
  ]);
  expect(screen.getByRole('link', { name: 'Charts' }).getAttribute('aria-current')).toBe('page');
  expect(viewOf('spiral')).toBe('table');
});
