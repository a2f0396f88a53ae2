'use client';

import { Button, TextInput } from '@mantine/core';
import { useQuery } from '@tanstack/react-query';
import { DataList } from '@/components/ui/data-list';
import { EmptyState } from '@/components/ui/empty-state';
import { Link } from '@/components/ui/link';
import { ListHead } from '@/components/ui/page-head';
import { useListAddress } from '@/components/ui/use-list-address';
import type { AccessionListQuery } from '@/lib/accessions/schema';
import { paths } from '@/lib/platform/paths';
import { sayDay } from '@/lib/platform/say-dates';
import { countOf, say, sayWord } from '@/lib/platform/words/say';
import { accessionListOptions, candidateOptions } from './queries';

/** Accessions, newest first, and how many accepted birds still wait for one. */
export function AccessionList({ query, mayMake }: { query: AccessionListQuery; mayMake: boolean }) {
  const address = useListAddress();
  const list = useQuery(accessionListOptions(query));
  const candidates = useQuery(candidateOptions());
  const waiting = candidates.data?.rows.length ?? 0;
  const newLink = mayMake ? (
    <Button component={Link} href={paths.accessionNew}>
      {say('New accession')}
    </Button>
  ) : null;
  return (
    <>
      <ListHead
        title={say('Accessions')}
        intro={
          waiting === 0
            ? say('Every accepted bird is in an accession.')
            : say('{of} in no accession yet.', { of: countOf(waiting, 'accepted bird') })
        }
        acts={newLink}
      >
        <TextInput
          label={say('Number or source')}
          type="search"
          defaultValue={query.q ?? ''}
          onChange={(event) => address.filter({ q: event.currentTarget.value })}
        />
      </ListHead>
      <DataList
        label={say('Accessions')}
        columns={[
          { id: 'number', head: say('Number'), cell: (row) => row.number },
          { id: 'kind', head: say('Kind'), cell: (row) => sayWord(row.kind) },
          { id: 'source', head: say('Source'), cell: (row) => row.source },
          { id: 'received', head: say('Received'), cell: (row) => sayDay(row.receivedOn) },
          { id: 'birds', head: say('Birds'), numeric: true, cell: (row) => row.birds },
        ]}
        rows={list.data?.rows}
        rowId={(row) => row.id}
        rowHref={(row) => paths.accession(row.id)}
        loading={list.isFetching}
        error={list.error}
        onRetry={() => void list.refetch()}
        paging={address.paging(list.data?.next, query.size)}
        empty={
          <EmptyState
            title={query.q === undefined ? say('No accession yet') : say('No accession like this')}
            act={newLink}
          >
            <p>
              {say(
                'An accession is the legal acquisition of a lot: where it came from, when, and under which papers.',
              )}
            </p>
          </EmptyState>
        }
      />
    </>
  );
}
