'use client';

import { Button } from '@mantine/core';
import { useState } from 'react';
import { DataList } from '@/components/ui/data-list';
import { EmptyState } from '@/components/ui/empty-state';
import { Section } from '@/components/ui/facts';
import { whenOpened } from '@/components/ui/later';
import { StateBadge } from '@/components/ui/state-badge';
import type { CatalogueRecord } from '@/lib/catalogue/wire';
import { sayDay } from '@/lib/platform/say-dates';
import { say } from '@/lib/platform/words/say';
import { useSheetChange } from './sheet-queries';

const DeterminationForm = whenOpened(
  () => import('./determination-form').then((module) => module.DeterminationForm),
  6,
);

/** Every identification of the bird, the current one marked; and a further one. */
export function Determinations({ record }: { record: CatalogueRecord }) {
  const [open, setOpen] = useState(false);
  const change = useSheetChange(record.birdId);
  return (
    <Section
      id="determinations"
      title={say('Identification')}
      acts={
        record.abilities.determine && !open ? (
          <Button variant="default" onClick={() => setOpen(true)}>
            {say('Identify anew')}
          </Button>
        ) : null
      }
    >
      <DataList
        label={say('Identifications')}
        columns={[
          {
            id: 'name',
            head: say('Name'),
            cell: (row) => (
              <>
                {[row.qualifier, row.name].filter((part) => part !== null).join(' ')}{' '}
                {row.current ? <StateBadge tone="settled">{say('current')}</StateBadge> : null}
              </>
            ),
          },
          { id: 'by', head: say('Identified by'), cell: (row) => row.determinedBy },
          { id: 'on', head: say('On'), cell: (row) => sayDay(row.determinedOn) },
          { id: 'as', head: say('As written'), deskOnly: true, cell: (row) => row.verbatim },
          { id: 'remarks', head: say('Remarks'), deskOnly: true, cell: (row) => row.remarks ?? '' },
        ]}
        rows={record.determinations}
        rowId={(row) => row.id}
        empty={
          <EmptyState title={say('Identified in the field only')}>
            <p>{say('The first identification is written down with approval.')}</p>
          </EmptyState>
        }
      />
      {open ? (
        <DeterminationForm
          error={change.error}
          isPending={change.isPending}
          attempt={change.failureCount}
          onSubmit={(body) => change.mutate({ act: 'determine', body }, { onSuccess: () => setOpen(false) })}
          onLeave={() => setOpen(false)}
        />
      ) : null}
    </Section>
  );
}
