'use client';

import { Button } from '@mantine/core';
import { useQuery } from '@tanstack/react-query';
import { useState } from 'react';
import { DataList } from '@/components/ui/data-list';
import { EmptyState } from '@/components/ui/empty-state';
import { problemOf } from '@/components/ui/problem';
import { StateBadge } from '@/components/ui/state-badge';
import { TaxonName } from '@/components/ui/taxon-name';
import { paths } from '@/lib/platform/paths';
import { countOf, phrases, say } from '@/lib/platform/words/say';
import type { ExposedVials as Exposed } from '@/lib/tissues/wire';
import { exposedOptions, useCountThaws } from './queries';
import { sayTissues } from './words';

type Row = Exposed['rows'][number];

/** The vials that lay in a freezer while it was too warm, with the thaw that is proposed for each. A person decides. */
export function ExposedVials({ logId }: { logId: string }) {
  const [open, setOpen] = useState(false);
  return open ? (
    <ExposedList logId={logId} />
  ) : (
    <p>
      <Button variant="default" onClick={() => setOpen(true)} mt="sm">
        {say('Which vials were there?')}
      </Button>
    </p>
  );
}

function ExposedList({ logId }: { logId: string }) {
  const exposed = useQuery(exposedOptions(logId));
  const count = useCountThaws(logId);
  const [selected, setSelected] = useState<ReadonlySet<string>>(new Set());
  const rows = exposed.data?.rows;
  const proposed = (rows ?? []).filter((row) => row.proposedThawCount > row.thawCount && !row.isCounted);
  const chosen = proposed.filter((row) => selected.has(row.id)).map((row) => row.id);
  const send = (ids: string[]) => count.mutate(ids, { onSuccess: () => setSelected(new Set()) });
  return (
    <>
      {count.error !== null && <p role="alert">{problemOf(count.error).title}</p>}
      {exposed.data?.abilities.count && proposed.length > 0 && (
        <p>
          <Button loading={count.isPending} onClick={() => send(proposed.map((row) => row.id))}>
            {say('Count the thaws of {of}', { of: countOf(proposed.length, 'vial') })}
          </Button>{' '}
          {say('The air was warm, not surely the tissue: the proposal is the cautious reading.')}
        </p>
      )}
      <DataList<Row>
        label={say('Vials that were there, the longest first')}
        columns={COLUMNS}
        rows={rows}
        rowId={(row) => row.id}
        rowHref={(row) => paths.vial(row.id)}
        error={exposed.error}
        onRetry={() => void exposed.refetch()}
        selection={exposed.data?.abilities.count ? { selected, onChange: setSelected } : undefined}
        bulk={
          <Button
            variant="default"
            disabled={chosen.length === 0}
            loading={count.isPending}
            onClick={() => send(chosen)}
          >
            {say('Count the thaws of {length}', { length: chosen.length })}
          </Button>
        }
        empty={<EmptyState title={say('No vial lay there at the time')} />}
      />
    </>
  );
}

const COLUMNS = phrases([
  {
    id: 'vial',
    head: 'Vial',
    cell: (row: Row) => (
      <>
        {row.label}, {sayTissues(row.tissues)}
        <br />
        <TaxonName scientific={row.scientificName} />
      </>
    ),
  },
  {
    id: 'minutes',
    head: 'In the warmth',
    unit: 'min',
    numeric: true,
    cell: (row: Row) => Math.round(row.minutes),
  },
  { id: 'peak', head: 'Warmest', unit: '°C', numeric: true, cell: (row: Row) => row.peakC.toFixed(1) },
  {
    id: 'thaws',
    head: 'Thaws',
    cell: (row: Row) =>
      row.isCounted ? (
        <StateBadge tone="settled">{say('{thawCount}, counted', { thawCount: row.thawCount })}</StateBadge>
      ) : row.proposedThawCount > row.thawCount ? (
        <StateBadge tone="attention">
          {say('{thawCount}, {proposedThawCount} proposed', {
            thawCount: row.thawCount,
            proposedThawCount: row.proposedThawCount,
          })}
        </StateBadge>
      ) : (
        `${row.thawCount}`
      ),
  },
  { id: 'why', head: 'Why', cell: (row: Row) => row.reasons.join(' ') },
]);
