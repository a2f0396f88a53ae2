'use client';

import { Button, TextInput } from '@mantine/core';
import { useQuery } from '@tanstack/react-query';
import { type FormEvent, useState } from 'react';
import type { Tone } from '@/components/ui/colours';
import { ConfirmInline } from '@/components/ui/confirm-inline';
import { CountInput } from '@/components/ui/count-input';
import { DataList } from '@/components/ui/data-list';
import { EmptyState } from '@/components/ui/empty-state';
import { Link } from '@/components/ui/link';
import { Moment } from '@/components/ui/moment';
import { ListHead } from '@/components/ui/page-head';
import { problemOf } from '@/components/ui/problem';
import { sayWith } from '@/components/ui/say-with';
import { StateBadge } from '@/components/ui/state-badge';
import { useListAddress } from '@/components/ui/use-list-address';
import type { LoanLinkRow } from '@/lib/loans/link-schema';
import type { LinkState } from '@/lib/loans/schema';
import { paths } from '@/lib/platform/paths';
import { phrases, say } from '@/lib/platform/words/say';
import classes from './loans.module.css';
import { linksOptions, useEndLink, useMakeLink } from './queries';

const STATES: Record<LinkState, { word: string; tone: Tone }> = phrases({
  open: { word: 'Waits for a request', tone: 'lead' },
  sent: { word: 'Request sent', tone: 'settled' },
  expired: { word: 'Over', tone: 'neutral' },
  ended: { word: 'Ended', tone: 'neutral' },
});

/** Links with which somebody outside asks for one loan: made here, sent on by hand, ended. */
export function LinkList({ query }: { query: { size: number; after?: string } }) {
  const address = useListAddress();
  const list = useQuery(linksOptions(query));
  const end = useEndLink();
  return (
    <>
      <ListHead
        title={say('Links for borrowers')}
        intro={say(
          'For somebody without an account: the link opens one form to ask for a loan, and afterwards says how far that request is. They see nothing of the collection. Whoever makes the link does not decide on the request.',
        )}
      />
      <MakeLink />
      {end.error === null ? null : <p role="alert">{problemOf(end.error).title}</p>}
      <DataList<LoanLinkRow>
        label={say('Links for borrowers')}
        columns={[
          { id: 'label', head: say('For whom'), cell: (row) => row.label },
          {
            id: 'state',
            head: say('Now'),
            cell: (row) => <StateBadge tone={STATES[row.state].tone}>{STATES[row.state].word}</StateBadge>,
          },
          {
            id: 'loan',
            head: say('Request'),
            cell: (row) =>
              row.loan === null ? '' : <Link href={paths.loan(row.loan.id)}>{row.loan.number}</Link>,
          },
          { id: 'until', head: say('Good until'), cell: (row) => <Moment at={row.expiresAt} /> },
          {
            id: 'made',
            head: say('Made'),
            deskOnly: true,
            cell: (row) => (
              <>
                <Moment at={row.createdAt} />, {row.madeBy}
              </>
            ),
          },
          {
            id: 'acts',
            head: '',
            cell: (row) =>
              row.state === 'open' || row.state === 'sent' ? (
                <ConfirmInline
                  act={say('End it')}
                  question={say('Its address opens nothing any more. A request that came through it stays.')}
                  confirm={say('End this link')}
                  onConfirm={() => end.mutateAsync(row.id)}
                />
              ) : null,
          },
        ]}
        rows={list.data?.rows}
        rowId={(row) => row.id}
        loading={list.isFetching}
        error={list.error}
        onRetry={() => void list.refetch()}
        paging={address.paging(list.data?.next, query.size)}
        empty={<EmptyState title={say('No link yet')} />}
      />
    </>
  );
}

function MakeLink() {
  const make = useMakeLink();
  const [label, setLabel] = useState('');
  const [validDays, setValidDays] = useState<string | number>(30);
  const submit = (event: FormEvent) => {
    event.preventDefault();
    make.mutate({ label, validDays: Number(validDays) }, { onSuccess: () => setLabel('') });
  };
  const problem = problemOf(make.error);
  return (
    <form onSubmit={submit} className={classes.row}>
      <TextInput
        label={say('For whom')}
        required
        maxLength={200}
        value={label}
        error={make.error === null ? undefined : (problem.fields?.[0]?.message ?? problem.title)}
        onChange={(event) => setLabel(event.currentTarget.value)}
      />
      <CountInput
        label={say('Good for days')}
        min={1}
        max={90}
        w={120}
        value={validDays}
        onChange={setValidDays}
      />
      <Button type="submit" loading={make.isPending} disabled={label.trim() === ''}>
        {say('Make a link')}
      </Button>
      {make.data === undefined ? null : (
        <p role="status">
          {sayWith('Made. Send this on yourself; it is shown once: {code}', {
            code: <code>{new URL(make.data.path, window.location.origin).href}</code>,
          })}
        </p>
      )}
    </form>
  );
}
