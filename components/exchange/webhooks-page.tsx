'use client';

import { Anchor } from '@mantine/core';
import { useQuery } from '@tanstack/react-query';
import { ConfirmInline } from '@/components/ui/confirm-inline';
import { DataList } from '@/components/ui/data-list';
import { EmptyState } from '@/components/ui/empty-state';
import { Section } from '@/components/ui/facts';
import { Link } from '@/components/ui/link';
import { ListHead } from '@/components/ui/page-head';
import { problemOf } from '@/components/ui/problem';
import { StateBadge } from '@/components/ui/state-badge';
import type { WebhookRow } from '@/lib/exchange/webhooks/schema';
import { paths } from '@/lib/platform/paths';
import { say } from '@/lib/platform/words/say';
import { DeliveryList } from './delivery-list';
import { WebhookForm } from './webhook-form';
import { useSwitchWebhook, webhooksOptions } from './webhook-queries';

/** Addresses outside that are told of changes, and what became of each message. */
export function WebhooksPage() {
  const webhooks = useQuery(webhooksOptions());
  const turn = useSwitchWebhook();
  return (
    <>
      <ListHead
        title={say('Webhooks')}
        intro={say(
          'An address outside is told that something changed: ids and kinds only, never what is in a record. It asks the API for the rest, with a token.',
        )}
      />
      <p>
        <Anchor component={Link} href={`${paths.apiReference}#webhooks`}>
          {say('How a message is signed and checked')}
        </Anchor>
      </p>
      {turn.error === null ? null : <p role="alert">{problemOf(turn.error).title}</p>}
      <DataList<WebhookRow>
        label={say('Webhooks')}
        columns={[
          { id: 'name', head: say('Who is told'), cell: (row) => row.name },
          { id: 'address', head: say('Address'), cell: (row) => row.address },
          { id: 'stages', head: say('Of'), deskOnly: true, cell: (row) => row.stages.join(', ') },
          { id: 'state', head: say('State'), cell: (row) => <WebhookState row={row} /> },
          {
            id: 'switch',
            head: say('Switch'),
            cell: (row) => (
              <ConfirmInline
                act={row.active ? say('Switch off') : say('Switch on')}
                question={
                  row.active
                    ? say('{name} is told nothing more.', { name: row.name })
                    : say('{name} is told of what happens from now on.', { name: row.name })
                }
                confirm={row.active ? say('Switch it off') : say('Switch it on')}
                reason={{ label: say('Why?') }}
                onConfirm={(reason) => turn.mutateAsync({ id: row.id, active: !row.active, reason })}
              />
            ),
          },
        ]}
        rows={webhooks.data?.rows}
        rowId={(row) => row.id}
        error={webhooks.error}
        onRetry={() => void webhooks.refetch()}
        empty={<EmptyState title={say('Nobody is told yet')} />}
      />
      <Section
        id="deliveries"
        title={say('Deliveries')}
        note={say('Newest first. What does not arrive is tried again for some hours.')}
      >
        <DeliveryList />
      </Section>
      <Section id="make" title={say('Register an address')}>
        <WebhookForm />
      </Section>
    </>
  );
}

function WebhookState({ row }: { row: WebhookRow }) {
  if (!row.active) return <StateBadge tone="stop">{say('Switched off')}</StateBadge>;
  if (row.givenUpInRow > 0)
    return (
      <StateBadge tone="attention">
        {say('{givenUpInRow} in a row did not arrive', { givenUpInRow: row.givenUpInRow })}
      </StateBadge>
    );
  return <StateBadge tone="settled">{say('On|switched on')}</StateBadge>;
}
