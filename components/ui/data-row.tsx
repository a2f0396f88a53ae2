'use client';

import type { ReactNode } from 'react';
import { Link } from '@/components/ui/link';
import classes from './data-list.module.css';
import { type DataListProps, ROLES } from './data-list-shape';

type Opening<Row> = {
  row: Row;
  list: DataListProps<Row>;
  inTabOrder: boolean;
  onFocus: () => void;
};

/** The first cell's content, as what opens the row. */
function RowOpener<Row>({
  row,
  list,
  inTabOrder,
  onFocus,
  children,
}: Opening<Row> & { children: ReactNode }) {
  const shared = {
    'data-row-focus': '',
    className: classes.open,
    tabIndex: inTabOrder ? 0 : -1,
    onFocus,
  };
  if (list.rowHref) {
    return (
      <Link href={list.rowHref(row)} onClick={() => list.onOpen?.(row)} {...shared}>
        {children}
      </Link>
    );
  }
  if (list.onOpen) {
    return (
      <button type="button" onClick={() => list.onOpen?.(row)} {...shared}>
        {children}
      </button>
    );
  }
  return <>{children}</>;
}

/** One row of a DataList; a card where there is no width. */
export function DataRow<Row>({ onToggle, ...opening }: Opening<Row> & { onToggle: () => void }) {
  const { row, list } = opening;
  const id = list.rowId(row);
  const [first, ...others] = list.columns;
  const selected = list.selection?.selected.has(id) ?? false;
  return (
    <tr
      {...ROLES.row}
      className={classes.row}
      data-selected={selected || undefined}
      data-changed={list.changed?.has(id) || undefined}
    >
      {list.selection && (
        <td {...ROLES.cell} className={classes.tick}>
          <input type="checkbox" aria-labelledby={`row-${id}`} checked={selected} onChange={onToggle} />
        </td>
      )}
      {first && (
        <th {...ROLES.rowHead} scope="row" id={`row-${id}`} className={classes.first}>
          <RowOpener {...opening}>{first.cell(row)}</RowOpener>
        </th>
      )}
      {others.map((column) => (
        <td
          key={column.id}
          {...ROLES.cell}
          data-numeric={column.numeric || undefined}
          data-desk-only={column.deskOnly || undefined}
        >
          <span className={classes.cellHead} aria-hidden="true">
            {column.head}
            {column.unit && ` (${column.unit})`}
          </span>
          <span className={classes.cell}>{column.cell(row)}</span>
        </td>
      ))}
    </tr>
  );
}
