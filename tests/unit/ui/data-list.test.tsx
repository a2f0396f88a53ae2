// @vitest-environment jsdom
import { fireEvent, screen, within } from '@testing-library/react';
import { describe, expect, test, vi } from 'vitest';
import { type Column, DataList, type DataListProps } from '@/components/ui/data-list';
import { rowAfter } from '@/components/ui/row-keys';
import { actOf } from '@/components/ui/shortcuts/table';
import { show } from './render';

type Bird = { id: string; taxon: string; massG: number };
const birds: Bird[] = [
  { id: 'S-1', taxon: 'Turdus merula', massG: 96 },
  { id: 'S-2', taxon: 'Parus major', massG: 18 },
  { id: 'S-3', taxon: 'Strix aluco', massG: 480 },
];
const columns: Column<Bird>[] = [
  { id: 'taxon', head: 'Number and taxon', sort: 'number', cell: (bird) => `${bird.id} ${bird.taxon}` },
  { id: 'mass', head: 'Mass', unit: 'g', numeric: true, sort: 'mass', cell: (bird) => bird.massG },
];

const showList = (props: Partial<DataListProps<Bird>> = {}) =>
  show(<DataList label="Birds" columns={columns} rows={birds} rowId={(bird) => bird.id} {...props} />);

describe('rows by keyboard', () => {
  test('one row is in the tab order; arrows, Home and End move the focus', () => {
    showList({ rowHref: (bird) => `/queue/${bird.id}` });
    const links = within(screen.getByRole('table', { name: 'Birds' })).getAllByRole('link');
    expect(links.map((link) => link.tabIndex)).toEqual([0, -1, -1]);
    links[0]?.focus();
    fireEvent.keyDown(document.activeElement ?? document.body, { key: 'ArrowDown' });
    expect(document.activeElement).toBe(links[1]);
    expect(links.map((link) => link.tabIndex)).toEqual([-1, 0, -1]);
    fireEvent.keyDown(document.activeElement ?? document.body, { key: 'End' });
    expect(document.activeElement).toBe(links[2]);
    fireEvent.keyDown(document.activeElement ?? document.body, { key: 'ArrowDown' });
    expect(document.activeElement).toBe(links[2]);
    expect(links[2]?.getAttribute('href')).toBe('/queue/S-3');
  });

  test('Space selects the row that has the focus', () => {
    const onChange = vi.fn();
    showList({ onOpen: () => {}, selection: { selected: new Set(['S-1']), onChange } });
    const row = screen.getByRole('button', { name: 'S-2 Parus major' });
    row.focus();
    fireEvent.keyDown(row, { key: ' ' });
    expect(onChange).toHaveBeenCalledExactlyOnceWith(new Set(['S-1', 'S-2']));
  });

  test.each([
    ['ArrowUp', 0, 0],
    ['ArrowDown', 1, 2],
    ['k', 2, 1],
    ['Home', 2, 0],
    ['x', 1, null],
  ])('%s from row %i leads to %s', (key, row, next) => {
    const act = actOf('list', { key, ctrlKey: false, metaKey: false, altKey: false });
    expect(rowAfter(act, row, 3)).toBe(next);
  });
});

describe('sorting, paging, and what can be instead of rows', () => {
  test('a head says how it is sorted and turns the order', () => {
    const onSort = vi.fn();
    showList({ sort: { by: 'mass', direction: 'up' }, onSort });
    expect(screen.getByRole('columnheader', { name: /Mass/ }).getAttribute('aria-sort')).toBe('ascending');
    fireEvent.click(within(screen.getByRole('columnheader', { name: /Mass/ })).getByRole('button'));
    fireEvent.click(within(screen.getByRole('columnheader', { name: /Number/ })).getByRole('button'));
    expect(onSort.mock.calls).toEqual([
      [{ by: 'mass', direction: 'down' }],
      [{ by: 'number', direction: 'up' }],
    ]);
  });

  test('the pages say which rows are shown; without a next page the button is off', () => {
    showList({ paging: { size: 50, from: 51, total: 1053, onPrevious: () => {} } });
    expect(screen.getByText('51–53 of 1,053')).toBeTruthy();
    expect(screen.getByRole('button', { name: 'Next' }).hasAttribute('disabled')).toBe(true);
    expect(screen.getByRole('button', { name: 'Previous' }).hasAttribute('disabled')).toBe(false);
  });

  test('loading, failure with a second try, and nothing', () => {
    const onRetry = vi.fn();
    const { unmount } = showList({ rows: undefined });
    expect(screen.getByRole('status').textContent).toBe('Loading: Birds…');
    unmount();
    const failed = showList({ error: { problem: { title: 'No', status: 500, requestId: 'r-9' } }, onRetry });
    expect(screen.getByRole('alert').textContent).toContain('r-9');
    fireEvent.click(screen.getByRole('button', { name: 'Try again' }));
    expect(onRetry).toHaveBeenCalledOnce();
    failed.unmount();
    showList({ rows: [], empty: 'No bird waits' });
    expect(screen.getByText('No bird waits')).toBeTruthy();
    expect(screen.queryByRole('table')).toBeNull();
  });
});
