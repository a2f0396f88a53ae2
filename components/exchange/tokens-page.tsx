'use client';

import { Button, Checkbox, Code, NativeSelect, Stack, TextInput } from '@mantine/core';
import { useQuery } from '@tanstack/react-query';
import { type FormEvent, useState } from 'react';
import { ConfirmInline } from '@/components/ui/confirm-inline';
import { DataList } from '@/components/ui/data-list';
import { EmptyState } from '@/components/ui/empty-state';
import { ErrorSummary } from '@/components/ui/error-summary';
import { Section } from '@/components/ui/facts';
import { fieldId } from '@/components/ui/field-id';
import { Moment } from '@/components/ui/moment';
import { ListHead } from '@/components/ui/page-head';
import { problemOf, problemsIn } from '@/components/ui/problem';
import { StateBadge } from '@/components/ui/state-badge';
import { type TokenRow, type TokenRows, tokenRequest } from '@/lib/exchange/schema';
import { say, sayWord } from '@/lib/platform/words/say';
import { tokensOptions, useMakeToken, useRevokeToken } from './queries';

const TONES = { good: 'settled', expired: 'neutral', revoked: 'stop' } as const;

/** Tokens with which other programs act for a person. */
export function TokensPage() {
  const tokens = useQuery(tokensOptions());
  const revoke = useRevokeToken();
  return (
    <>
      <ListHead
        title={say('Tokens')}
        intro={say(
          'A token lets another program act for a person: within its scopes, within what the person may do, until it ends.',
        )}
      />
      {revoke.error === null ? null : <p role="alert">{problemOf(revoke.error).title}</p>}
      <DataList<TokenRow>
        label={say('Tokens')}
        columns={[
          { id: 'name', head: say('Token'), cell: (row) => row.name },
          { id: 'person', head: say('Acts for'), cell: (row) => row.person },
          { id: 'scopes', head: say('May|is allowed'), deskOnly: true, cell: (row) => row.scopes.join(', ') },
          {
            id: 'state',
            head: say('State'),
            cell: (row) => <StateBadge tone={TONES[row.state]}>{sayWord(row.state)}</StateBadge>,
          },
          { id: 'ends', head: say('Ends'), cell: (row) => <Moment at={row.expiresAt} /> },
          {
            id: 'used',
            head: say('Last used'),
            deskOnly: true,
            cell: (row) => (row.lastUsedAt === null ? say('never') : <Moment at={row.lastUsedAt} />),
          },
          {
            id: 'end',
            head: say('End it'),
            cell: (row) =>
              row.state === 'good' ? (
                <ConfirmInline
                  act={say('Revoke')}
                  question={say('Whatever uses {name} stops at once.', { name: row.name })}
                  confirm={say('Revoke the token')}
                  reason={{ label: say('Why?') }}
                  onConfirm={(reason) => revoke.mutateAsync({ id: row.id, reason })}
                />
              ) : null,
          },
        ]}
        rows={tokens.data?.rows}
        rowId={(row) => row.id}
        error={tokens.error}
        onRetry={() => void tokens.refetch()}
        empty={<EmptyState title={say('No token yet')} />}
      />
      <Section id="make" title={say('Make a token')}>
        {tokens.data === undefined ? null : <TokenForm people={tokens.data.people} />}
      </Section>
    </>
  );
}

function TokenForm({ people }: { people: TokenRows['people'] }) {
  const make = useMakeToken();
  const [personId, setPersonId] = useState('');
  const [scopes, setScopes] = useState<string[]>([]);
  const [local, setLocal] = useState<{ path: string; message: string }[]>([]);
  const person = people.find((one) => one.id === personId);
  const submit = (event: FormEvent<HTMLFormElement>) => {
    event.preventDefault();
    const form = event.currentTarget;
    const parsed = tokenRequest.safeParse({ ...Object.fromEntries(new FormData(form)), personId, scopes });
    if (!parsed.success) {
      setLocal(problemsIn(parsed.error));
      return;
    }
    setLocal([]);
    make.mutate(parsed.data, {
      onSuccess: () => {
        form.reset();
        setScopes([]);
      },
    });
  };
  const problem = problemOf(make.error);
  return (
    <form onSubmit={submit} noValidate>
      <Stack gap="md" maw={520}>
        <ErrorSummary
          problems={local.length > 0 ? local : (problem.fields ?? [])}
          title={local.length > 0 ? undefined : problem.title}
        />
        <TextInput id={fieldId('name')} name="name" label={say('What it is for')} required />
        <NativeSelect
          id={fieldId('personId')}
          label={say('Acts for')}
          value={personId}
          onChange={(event) => {
            setPersonId(event.currentTarget.value);
            setScopes([]);
          }}
          data={[
            { value: '', label: say('Choose a person') },
            ...people.map((one) => ({ value: one.id, label: one.name })),
          ]}
        />
        <TextInput id={fieldId('expiresOn')} name="expiresOn" type="date" label={say('Ends on')} required />
        {person === undefined ? null : (
          <Checkbox.Group
            id={fieldId('scopes')}
            label={say('What it may do, of what {name} may do', { name: person.name })}
            value={scopes}
            onChange={setScopes}
          >
            <Stack gap="xs" mt="xs">
              {person.scopes.map((scope) => (
                <Checkbox key={scope} value={scope} label={scope} />
              ))}
            </Stack>
          </Checkbox.Group>
        )}
        <div>
          <Button type="submit" loading={make.isPending}>
            {say('Make the token')}
          </Button>
        </div>
        {make.data === undefined ? null : (
          <div role="status">
            <p>{say('Copy it now: it is not shown again, and only its digest is kept.')}</p>
            <Code block>{make.data.token}</Code>
          </div>
        )}
      </Stack>
    </form>
  );
}
