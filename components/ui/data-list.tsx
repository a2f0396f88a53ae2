'use client';

import { IconArrowDown, IconArrowsSort, IconArrowUp } from '@tabler/icons-react';
import { say } from '@/lib/platform/words/say';
import classes from './data-list.module.css';
import { type Column, type DataListProps, ROLES, type Sort } from './data-list-shape';
import { DataRow } from './data-row';
import { EmptyState } from './empty-state';
import { ErrorState } from './error-state';
import { Loading } from './loading';
import { Paging } from './paging';
import { useRowKeys } from './row-keys';

export type { Column, DataListProps, Sort };

const turn = (sort: Sort | undefined, by: string): Sort => ({
  by,
  direction: sort?.by === by && sort.direction === 'up' ? 'down' : 'up',
});

function Head<Row>({
  column,
  sort,
  onSort,
}: { column: Column<Row> } & Pick<DataListProps<Row>, 'sort' | 'onSort'>) {
  const by = column.sort;
  const sorted = by !== undefined && sort?.by === by ? sort.direction : null;
  const words = (
    <>
      {column.head}
      {column.unit && <span className={classes.unit}>({column.unit})</span>}
    </>
  );
  const Icon = sorted === 'up' ? IconArrowUp : sorted === 'down' ? IconArrowDown : IconArrowsSort;
  return (
    <th
      {...ROLES.head}
      scope="col"
      data-numeric={column.numeric || undefined}
      aria-sort={sorted === 'up' ? 'ascending' : sorted === 'down' ? 'descending' : undefined}
    >
      {by !== undefined && onSort ? (
        <button type="button" className={classes.sort} onClick={() => onSort(turn(sort, by))}>
          {words}
          <Icon size={16} stroke={1.75} aria-hidden="true" data-idle={sorted === null || undefined} />
        </button>
      ) : (
        words
      )}
    </th>
  );
}

/** The heads cannot be pressed where rows are cards; this does their work there. */
function PhoneSort<Row>({ columns, sort, onSort }: Pick<DataListProps<Row>, 'columns' | 'sort' | 'onSort'>) {
  const sortable = columns.filter((column) => column.sort !== undefined);
  if (!onSort || sortable.length === 0) return null;
  return (
    <div className={classes.phoneSort}>
      <label className={classes.size}>
        {say('Sorted by')}
        <select
          value={sort?.by ?? ''}
          onChange={(event) => onSort({ by: event.currentTarget.value, direction: sort?.direction ?? 'up' })}
        >
          {sort === undefined && <option value="">{say('as they come')}</option>}
          {sortable.map((column) => (
            <option key={column.id} value={column.sort}>
              {column.head}
            </option>
          ))}
        </select>
      </label>
      {sort && (
        <button type="button" className={classes.sort} onClick={() => onSort(turn(sort, sort.by))}>
          {sort.direction === 'up' ? say('Upwards') : say('Downwards')}
        </button>
      )}
    </div>
  );
}

/**
 * A list of what waits: a table with its heads in sight, one row in the tab order and arrow keys between rows (Enter
 * opens, Space selects); cards where there is no width; and all that can be instead of rows.
 */
export function DataList<Row>(props: DataListProps<Row>) {
  const { label, columns, rows, rowId, selection, loading = false, error, onRetry } = props;
  const toggle = (row: Row) => {
    if (!selection) return;
    const next = new Set(selection.selected);
    if (!next.delete(rowId(row))) next.add(rowId(row));
    selection.onChange(next);
  };
  const keys = useRowKeys(
    rows?.length ?? 0,
    selection &&
      ((index) => {
        const row = rows?.[index];
        if (row !== undefined) toggle(row);
      }),
  );
  if (error)
    return (
      <ErrorState
        what={say('{label}: the list could not be loaded.', { label })}
        error={error}
        onRetry={onRetry}
      />
    );
  if (rows === undefined) return <Loading what={say('Loading: {label}', { label })} lines={8} />;
  const everySelected = rows.length > 0 && rows.every((row) => selection?.selected.has(rowId(row)));
  return (
    <div className={classes.list} aria-busy={loading}>
      <PhoneSort columns={columns} sort={props.sort} onSort={props.onSort} />
      {rows.length === 0 ? (
        (props.empty ?? <EmptyState title={say('Nothing here')} />)
      ) : (
        <div className={classes.scroll}>
          <table {...ROLES.table} className={classes.table} aria-label={label}>
            <thead {...ROLES.group}>
              <tr {...ROLES.row}>
                {selection && (
                  <th {...ROLES.head} scope="col" className={classes.tick}>
                    <input
                      type="checkbox"
                      aria-label={say('Select all on this page')}
                      checked={everySelected}
                      onChange={() => selection.onChange(new Set(everySelected ? [] : rows.map(rowId)))}
                    />
                  </th>
                )}
                {columns.map((column) => (
                  <Head key={column.id} column={column} sort={props.sort} onSort={props.onSort} />
                ))}
              </tr>
            </thead>
            <tbody {...ROLES.group} onKeyDown={keys.onKeyDown}>
              {rows.map((row, index) => (
                <DataRow
                  key={rowId(row)}
                  row={row}
                  list={props}
                  inTabOrder={index === keys.current}
                  onFocus={() => keys.setActive(index)}
                  onToggle={() => toggle(row)}
                />
              ))}
            </tbody>
          </table>
        </div>
      )}
      {selection && selection.selected.size > 0 && (
        <div className={classes.bulk}>
          <span role="status">{say('{size} selected', { size: selection.selected.size })}</span>
          {props.bulk}
          <button type="button" className={classes.sort} onClick={() => selection.onChange(new Set())}>
            {say('Select none')}
          </button>
        </div>
      )}
      {props.paging && <Paging {...props.paging} shown={rows.length} />}
    </div>
  );
}
