'use client';

import { Button, Group, NativeSelect } from '@mantine/core';
import { useQuery } from '@tanstack/react-query';
import { useState } from 'react';
import { DataList } from '@/components/ui/data-list';
import { EmptyState } from '@/components/ui/empty-state';
import { ErrorSummary } from '@/components/ui/error-summary';
import { Section } from '@/components/ui/facts';
import { problemOf } from '@/components/ui/problem';
import { StateBadge } from '@/components/ui/state-badge';
import { TaxonName } from '@/components/ui/taxon-name';
import { countOf, say, sayWord } from '@/lib/platform/words/say';
import { PREPARATION_STYLES, type PreparationStyle, SIZE_CLASSES, type SizeClass } from '@/lib/queue/schema';
import type { QueueRow } from '@/lib/queue/wire';
import { queueListOptions, useEnqueue } from './queries';

/** Birds that are here but in no queue: choose them, say what they become, queue them. */
export function EnqueueDesk() {
  const list = useQuery(queueListOptions({ states: ['in-custody', 'in-freezer'], size: 100 }));
  const enqueue = useEnqueue();
  const [chosen, setChosen] = useState<ReadonlySet<string>>(new Set());
  const [style, setStyle] = useState<PreparationStyle>('skin-with-partial-skeleton');
  const [sizeClass, setSizeClass] = useState<SizeClass>('medium');
  const problem = problemOf(enqueue.error);
  return (
    <Section
      id="not-queued"
      title={say('Not queued yet')}
      note={say('Accessioned birds whose preparation nobody has chosen.')}
    >
      <ErrorSummary problems={problem.fields ?? []} title={problem.title} />
      <DataList<QueueRow>
        label={say('Birds in no queue')}
        columns={[
          { id: 'number', head: say('Number'), cell: (row) => row.number },
          {
            id: 'taxon',
            head: say('Taxon'),
            cell: (row) => <TaxonName scientific={row.scientificName} common={row.commonName} />,
          },
          { id: 'condition', head: say('Condition'), cell: (row) => sayWord(row.condition) },
          { id: 'place', head: say('Where it lies'), cell: (row) => row.place ?? say('no place noted') },
          {
            id: 'ready',
            head: say('Ready'),
            cell: (row) =>
              row.accessioned ? (
                <StateBadge tone="settled">{say('Ready')}</StateBadge>
              ) : (
                <StateBadge tone="attention">{say('Needs an accession')}</StateBadge>
              ),
          },
        ]}
        rows={list.data?.rows}
        rowId={(row) => row.id}
        loading={list.isFetching}
        error={list.error}
        onRetry={() => void list.refetch()}
        selection={{ selected: chosen, onChange: setChosen }}
        empty={<EmptyState title={say('Every bird here is queued')} />}
      />
      <Group align="flex-end" mt="md">
        <NativeSelect
          label={say('Preparation')}
          data={PREPARATION_STYLES.map((value) => ({ value, label: sayWord(value) }))}
          value={style}
          onChange={(event) => setStyle(event.currentTarget.value as PreparationStyle)}
        />
        <NativeSelect
          label={say('Size')}
          data={SIZE_CLASSES.map((value) => ({ value, label: sayWord(value) }))}
          value={sizeClass}
          onChange={(event) => setSizeClass(event.currentTarget.value as SizeClass)}
        />
        <Button
          disabled={chosen.size === 0}
          loading={enqueue.isPending}
          onClick={() =>
            enqueue.mutate(
              { birdIds: [...chosen], style, sizeClass },
              { onSuccess: () => setChosen(new Set()) },
            )
          }
        >
          {chosen.size === 0
            ? say('Queue the chosen birds')
            : say('Queue {of}', { of: countOf(chosen.size, 'bird') })}
        </Button>
      </Group>
    </Section>
  );
}
