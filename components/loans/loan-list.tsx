'use client';

import { Button, NativeSelect, TextInput } from '@mantine/core';
import { useQuery } from '@tanstack/react-query';
import { DataList } from '@/components/ui/data-list';
import { EmptyState } from '@/components/ui/empty-state';
import { Link } from '@/components/ui/link';
import { ListHead } from '@/components/ui/page-head';
import { useListAddress } from '@/components/ui/use-list-address';
import { LOAN_STATES } from '@/lib/loans/schema';
import type { LoanListQuery, LoanRow } from '@/lib/loans/wire';
import { paths } from '@/lib/platform/paths';
import { sayDay } from '@/lib/platform/say-dates';
import { countOf, phrases, say, wordOf } from '@/lib/platform/words/say';
import { loanListOptions } from './queries';
import { LoanState } from './words';

const VIEWS = phrases([
  { value: '', label: 'All' },
  { value: 'open', label: 'Open' },
  { value: 'overdue', label: 'Overdue' },
  ...LOAN_STATES.map((value) => ({ value, label: wordOf(value) })),
]);

const COLUMNS = phrases([
  {
    id: 'loan',
    head: 'Loan',
    cell: (row: LoanRow) => (
      <>
        {row.number}
        <br />
        {row.institution}
      </>
    ),
  },
  {
    id: 'state',
    head: 'Where it is',
    cell: (row: LoanRow) => <LoanState state={row.state} overdueDays={row.overdueDays} />,
  },
  { id: 'due', head: 'Due back', cell: (row: LoanRow) => (row.dueOn === null ? '' : sayDay(row.dueOn)) },
  {
    id: 'what',
    head: 'What',
    cell: (row: LoanRow) =>
      `${countOf(row.materials, 'material')}${row.kind === 'grant' ? say(', grant that may be consumed') : ''}`,
  },
  { id: 'out', head: 'Out', numeric: true, cell: (row: LoanRow) => row.balance.out },
  { id: 'contact', head: 'Borrower', deskOnly: true, cell: (row: LoanRow) => row.contact },
  { id: 'asked', head: 'Asked for', deskOnly: true, cell: (row: LoanRow) => sayDay(row.askedOn) },
]);

/** Loans: what is overdue first, then what is open. */
export function LoanList({ query, mayAsk }: { query: LoanListQuery; mayAsk: boolean }) {
  const address = useListAddress();
  const list = useQuery(loanListOptions(query));
  const newLink = mayAsk ? (
    <>
      <Button component={Link} href={paths.loanLinks} variant="default">
        {say('Links for borrowers')}
      </Button>
      <Button component={Link} href={paths.loanNew}>
        {say('New loan')}
      </Button>
    </>
  ) : null;
  return (
    <>
      <ListHead
        title={say('Loans')}
        intro={say('What left the building, and when it is due back.')}
        acts={newLink}
      >
        <NativeSelect
          label={say('Show')}
          data={VIEWS}
          value={query.state ?? ''}
          onChange={(event) => address.filter({ state: event.currentTarget.value })}
        />
        <TextInput
          label={say('Number or borrower')}
          type="search"
          defaultValue={query.q ?? ''}
          onChange={(event) => address.filter({ q: event.currentTarget.value })}
        />
      </ListHead>
      <DataList
        label={say('Loans')}
        columns={COLUMNS}
        rows={list.data?.rows}
        rowId={(row) => row.id}
        rowHref={(row) => paths.loan(row.id)}
        loading={list.isFetching}
        error={list.error}
        onRetry={() => void list.refetch()}
        paging={address.paging(list.data?.next, query.size)}
        empty={
          <EmptyState
            title={
              query.q === undefined && query.state === undefined
                ? say('No loan yet')
                : say('No loan like this')
            }
            act={newLink}
          >
            <p>{say('A loan takes its materials off their shelves; a return puts them back.')}</p>
          </EmptyState>
        }
      />
    </>
  );
}
