'use client';

import { TextInput } from '@mantine/core';
import { useQuery } from '@tanstack/react-query';
import { DataList } from '@/components/ui/data-list';
import { EmptyState } from '@/components/ui/empty-state';
import { Section } from '@/components/ui/facts';
import { Moment } from '@/components/ui/moment';
import { ListHead } from '@/components/ui/page-head';
import { StateBadge } from '@/components/ui/state-badge';
import { useListAddress } from '@/components/ui/use-list-address';
import type { PeopleQuery, PersonRow } from '@/lib/people/schema';
import { paths } from '@/lib/platform/paths';
import { say, sayWord } from '@/lib/platform/words/say';
import { InviteForm } from './invite-form';
import { peopleListOptions } from './queries';

/** Everybody with an account in this collection, and the form that invites another. */
export function PeopleList({ query }: { query: PeopleQuery }) {
  const address = useListAddress();
  const list = useQuery(peopleListOptions(query));
  return (
    <>
      <ListHead
        title={say('People')}
        intro={say('Who may work here, and as what. A change of roles takes effect at once.')}
      >
        <TextInput
          label={say('Name or e-mail')}
          type="search"
          defaultValue={query.q ?? ''}
          onChange={(event) => address.filter({ q: event.currentTarget.value })}
        />
      </ListHead>
      <DataList<PersonRow>
        label={say('People')}
        columns={[
          { id: 'name', head: say('Name'), cell: (row) => row.name },
          {
            id: 'email',
            head: say('E-mail'),
            deskOnly: true,
            cell: (row) => (row.erased ? 'erased' : row.email),
          },
          { id: 'roles', head: say('Roles'), cell: (row) => row.roles.map(sayWord).join(', ') },
          { id: 'state', head: say('Account'), cell: (row) => <AccountState person={row} /> },
          {
            id: 'seen',
            head: say('Last sign-in'),
            cell: (row) => (row.lastSignInAt === null ? say('never') : <Moment at={row.lastSignInAt} />),
          },
        ]}
        rows={list.data?.rows}
        rowId={(row) => row.id}
        rowHref={(row) => paths.person(row.id)}
        loading={list.isFetching}
        error={list.error}
        onRetry={() => void list.refetch()}
        paging={address.paging(list.data?.next, query.size)}
        empty={<EmptyState title={say('Nobody like this')} />}
      />
      <Section id="invite" title={say('Invite somebody')}>
        <InviteForm />
      </Section>
    </>
  );
}

export function AccountState({ person }: { person: Pick<PersonRow, 'active' | 'invited' | 'erased'> }) {
  if (person.erased) return <StateBadge tone="stop">{say('Erased')}</StateBadge>;
  if (!person.active) return <StateBadge tone="stop">{say('Closed')}</StateBadge>;
  return person.invited ? (
    <StateBadge tone="attention">{say('Invited')}</StateBadge>
  ) : (
    <StateBadge tone="settled">{say('Open')}</StateBadge>
  );
}
