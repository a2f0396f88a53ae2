'use client';

import { Button, NativeSelect, TextInput } from '@mantine/core';
import { useQuery } from '@tanstack/react-query';
import { DataList } from '@/components/ui/data-list';
import { EmptyState } from '@/components/ui/empty-state';
import { Link } from '@/components/ui/link';
import { ListHead } from '@/components/ui/page-head';
import { StateBadge } from '@/components/ui/state-badge';
import { useListAddress } from '@/components/ui/use-list-address';
import { type PermitListQuery, type PermitRow, permitStandings } from '@/lib/permits/wire';
import { paths } from '@/lib/platform/paths';
import { sayDay } from '@/lib/platform/say-dates';
import { countOf, say } from '@/lib/platform/words/say';
import { LegalCaution } from './legal-caution';
import { permitListOptions } from './queries';
import { KIND_WORDS, STANDING_TONES, STANDING_WORDS, warningTone } from './words';

/** The permits of the collection with what each warns of, ahead of time. */
export function PermitList({ query, mayManage }: { query: PermitListQuery; mayManage: boolean }) {
  const address = useListAddress();
  const list = useQuery(permitListOptions(query));
  const warned = list.data?.rows.filter(({ warnings }) => warnings.length > 0).length ?? 0;
  const newLink = mayManage ? (
    <Button component={Link} href={paths.permitNew}>
      {say('Enter a permit')}
    </Button>
  ) : null;
  return (
    <>
      <ListHead
        title={say('Permits')}
        intro={
          warned === 0
            ? say('No term, report or quota here needs anything now.')
            : say('{of} with something due.', { of: countOf(warned, 'permit') })
        }
        acts={
          <>
            {newLink}
            <Button component={Link} href={paths.law} variant="default">
              {say('Rules and lists')}
            </Button>
          </>
        }
      >
        <NativeSelect
          label={say('Show')}
          data={[
            { value: '', label: say('All') },
            ...permitStandings.map((value) => ({ value, label: STANDING_WORDS[value] })),
          ]}
          value={query.standing ?? ''}
          onChange={(event) => address.filter({ standing: event.currentTarget.value })}
        />
        <TextInput
          label={say('Number, authority or holder')}
          type="search"
          defaultValue={query.q ?? ''}
          onChange={(event) => address.filter({ q: event.currentTarget.value })}
        />
      </ListHead>
      <DataList<PermitRow>
        label={say('Permits')}
        columns={[
          { id: 'number', head: say('Number'), cell: (row) => row.number },
          { id: 'authority', head: say('Authority'), cell: (row) => row.authority },
          { id: 'kind', head: say('Kind'), cell: (row) => `${KIND_WORDS[row.kind]}, ${row.jurisdiction}` },
          { id: 'holder', head: say('Holder'), deskOnly: true, cell: (row) => row.holder },
          { id: 'term', head: say('Term'), cell: (row) => sayTerm(row) },
          { id: 'birds', head: say('Birds'), numeric: true, cell: (row) => row.birds },
          { id: 'state', head: say('Now'), cell: (row) => <Now row={row} /> },
        ]}
        rows={list.data?.rows}
        rowId={(row) => row.id}
        rowHref={(row) => paths.permit(row.id)}
        loading={list.isFetching}
        error={list.error}
        onRetry={() => void list.refetch()}
        paging={address.paging(list.data?.next, query.size)}
        empty={
          <EmptyState
            title={query.q === undefined ? say('No permit yet') : say('No permit like this')}
            act={newLink}
          >
            <p>{say('Without a permit, only general authorisations of the rule packs can cover a bird.')}</p>
          </EmptyState>
        }
      />
      <LegalCaution />
    </>
  );
}

export const sayTerm = ({ effectiveOn, expiresOn }: Pick<PermitRow, 'effectiveOn' | 'expiresOn'>): string =>
  expiresOn === null
    ? say('from {day}', { day: sayDay(effectiveOn) })
    : `${sayDay(effectiveOn)} – ${sayDay(expiresOn)}`;

function Now({ row }: { row: PermitRow }) {
  const [first] = row.warnings;
  if (first === undefined) {
    return <StateBadge tone={STANDING_TONES[row.standing]}>{STANDING_WORDS[row.standing]}</StateBadge>;
  }
  const more =
    row.warnings.length > 1 ? say(' (and {length} more)', { length: row.warnings.length - 1 }) : '';
  return <StateBadge tone={warningTone(first.code)}>{`${first.message}${more}`}</StateBadge>;
}
