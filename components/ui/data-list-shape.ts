import type { ReactNode } from 'react';
import type { PagingProps } from './paging';

export type Column<Row> = {
  id: string;
  head: string;
  /** Shown in the head after the word. */
  unit?: string;
  /** Numbers stand to the right, digit under digit. */
  numeric?: boolean;
  /** Name of the order the server gives by this column; a head without it does not sort. */
  sort?: string;
  /** Left out where rows become cards. */
  deskOnly?: boolean;
  cell: (row: Row) => ReactNode;
};

export type Sort = { by: string; direction: 'up' | 'down' };

export type DataListProps<Row> = {
  /** What the list holds; read out as its name. */
  label: string;
  /** The first column is the number and the taxon; it carries the row's link, so it holds no other link. */
  columns: readonly Column<Row>[];
  rows: readonly Row[] | undefined;
  rowId: (row: Row) => string;
  rowHref?: (row: Row) => string;
  /** What opening a row does; beside a `rowHref` also before the way there. */
  onOpen?: (row: Row) => void;
  sort?: Sort;
  onSort?: (sort: Sort) => void;
  paging?: Omit<PagingProps, 'shown'>;
  loading?: boolean;
  error?: unknown;
  onRetry?: () => void;
  /** Shown when there are no rows: say when there will be some. */
  empty?: ReactNode;
  selection?: { selected: ReadonlySet<string>; onChange: (selected: ReadonlySet<string>) => void };
  /** Acts on the selected rows. */
  bulk?: ReactNode;
  /** Rows somebody else just changed: they glow once. */
  changed?: ReadonlySet<string>;
};

/** The table roles, spelled out because the cards of the phone layout would otherwise lose them. */
export const ROLES = {
  table: { role: 'table' },
  group: { role: 'rowgroup' },
  row: { role: 'row' },
  head: { role: 'columnheader' },
  rowHead: { role: 'rowheader' },
  cell: { role: 'cell' },
} as const;
