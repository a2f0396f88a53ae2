// @vitest-environment jsdom
import { QueryClient, QueryClientProvider, type UseQueryResult } from '@tanstack/react-query';
import { fireEvent, screen, within } from '@testing-library/react';
import { useState } from 'react';
import { afterEach, describe, expect, test, vi } from 'vitest';
import { ResultTable } from '@/components/catalogue/result-table';
import type { SearchAnswer, SearchRow } from '@/lib/catalogue/search-wire';
import { show } from '../ui/render';

const ids = [
  '01980000-0000-7000-8000-000000000001',
  '01980000-0000-7000-8000-000000000002',
  '01980000-0000-7000-8000-000000000003',
];
const rows: SearchRow[] = ids.map((birdId, at) => ({
  birdId,
  number: `SB-2025-000${at + 1}`,
  catalogueNumber: null,
  prepNumber: null,
  scientificName: 'Turdus migratorius',
  commonName: null,
  familyName: null,
  sex: 'female',
  age: null,
  stage: 'queued',
  styleId: null,
  foundFrom: '2025-04-03',
  foundTo: '2025-04-03',
  stateProvince: 'Ohio',
  county: 'Franklin',
  locality: null,
  preparator: null,
  preparedOn: null,
  approvedOn: null,
  kinds: [],
  custodies: [],
}));
const all = { export: true, follow: true, labels: false, loan: true, determine: true };
const onQuery = vi.fn();
const client = new QueryClient();

function showTable(q = '', may = all) {
  const list = { data: { rows }, isFetching: false, error: null, refetch: vi.fn() };
  return (
    <QueryClientProvider client={client}>
      <ResultTable
        query={{ q, sort: '-number', size: 50 }}
        list={list as unknown as UseQueryResult<SearchAnswer>}
        columns={['stage']}
        paging={{ size: 50, onSize: () => {} }}
        may={may}
        onSort={() => {}}
        onQuery={onQuery}
      />
    </QueryClientProvider>
  );
}
/** A page whose search changes under the table. */
function Page() {
  const [q, setQ] = useState('sex:female');
  return (
    <>
      <button type="button" onClick={() => setQ('sex:male')}>
        Another search
      </button>
      {showTable(q)}
    </>
  );
}
/** The acts are loaded when the first bird is chosen. */
const act = (name: string) => screen.findByRole('button', { name }, { timeout: 60_000 });
const link = (at: number) => within(screen.getByRole('table')).getAllByRole('link')[at] ?? document.body;
const press = (at: number) => {
  link(at).focus();
  fireEvent.keyDown(link(at), { key: ' ' });
};

afterEach(() => vi.unstubAllGlobals());

describe('acts on chosen birds', () => {
  test('Space on a row chooses it; what failed is told by number and reason', async () => {
    const asked = vi.fn(async (_path: string, _call: RequestInit) =>
      Response.json({
        rows: [
          { id: ids[0], problem: null },
          { id: ids[2], problem: 'This bird was not found.' },
        ],
      }),
    );
    vi.stubGlobal('fetch', asked);
    show(showTable());
    press(0);
    press(2);
    expect(screen.getByText('2 selected')).toBeTruthy();
    fireEvent.click(await act('Follow'));
    expect(await screen.findByText('1 bird followed, 1 not')).toBeTruthy();
    const failed = screen.getByText('SB-2025-0003', { selector: 'b' }).closest('li');
    expect(failed?.textContent).toBe('SB-2025-0003: This bird was not found.');
    const [path, call] = asked.mock.calls[0] ?? [];
    expect(path).toBe('/api/notices/follow/birds');
    expect(JSON.parse(String(call?.body))).toEqual({ birdIds: [ids[0], ids[2]], follow: true });
  });

  test('chosen birds become a search, a file and a loan of their own', async () => {
    onQuery.mockClear();
    show(showTable());
    press(1);
    fireEvent.click(await act('Only these'));
    expect(onQuery).toHaveBeenCalledExactlyOnceWith('number:SB-2025-0002');
    const href = (name: string) => screen.getByRole('link', { name }).getAttribute('href');
    expect(href('These as XLSX')).toBe(`/api/catalogue/export?form=xlsx&birds=${ids[1]}`);
    expect(href('Ask for a loan')).toBe(`/loans/new?birds=${ids[1]}`);
  });

  test('another search begins with none chosen; without any right there is nothing to choose', () => {
    const { unmount } = show(<Page />);
    press(0);
    expect(screen.getByText('1 selected')).toBeTruthy();
    fireEvent.click(screen.getByRole('button', { name: 'Another search' }));
    expect(screen.queryByText('1 selected')).toBeNull();
    unmount();
    show(showTable('', { export: false, follow: false, labels: false, loan: false, determine: false }));
    expect(screen.queryByRole('checkbox')).toBeNull();
  });
});
