'use client';

import { useQuery } from '@tanstack/react-query';
import { PrintLabels } from '@/components/labels/print-labels';
import { DataList } from '@/components/ui/data-list';
import { EmptyState } from '@/components/ui/empty-state';
import { ErrorState } from '@/components/ui/error-state';
import { Loading } from '@/components/ui/loading';
import { StateBadge } from '@/components/ui/state-badge';
import { paths } from '@/lib/platform/paths';
import { say } from '@/lib/platform/words/say';
import type { VialRow } from '@/lib/tissues/wire';
import { FillForm } from './fill-form';
import { birdVialsOptions } from './queries';
import { COLUMNS } from './vial-list';

/** The vials of one bird, and filling more at the bench: tissue, tube, amount, where they go. */
export function TissuePanel({ birdId }: { birdId: string }) {
  const record = useQuery(birdVialsOptions(birdId));
  if (record.error) {
    return (
      <ErrorState
        what={say('The vials of this bird could not be loaded.')}
        error={record.error}
        onRetry={() => void record.refetch()}
      />
    );
  }
  if (record.data === undefined) return <Loading what={say('Loading the vials')} />;
  const { vials, duplicates, abilities, number } = record.data;
  return (
    <>
      <DataList<VialRow>
        label={say('Vials of {number}', { number })}
        columns={COLUMNS}
        rows={vials}
        rowId={(row) => row.id}
        rowHref={(row) => paths.vial(row.id)}
        empty={
          <EmptyState title={say('No vial of this bird yet')}>
            <p>{say('Take tissue while it is cold: two vials that will lie in different freezers.')}</p>
          </EmptyState>
        }
      />
      {vials.length > 0 && (
        <p>
          <StateBadge tone={duplicates.isApart ? 'settled' : 'attention'}>{duplicates.message}</StateBadge>
        </p>
      )}
      {vials.length > 0 && (
        <>
          <PrintLabels
            kind="vial-side"
            name="Print the labels of their sides"
            ids={vials.map((vial) => vial.id)}
          />
          <PrintLabels
            kind="vial-cap"
            name="Print the labels of their caps"
            ids={vials.map((vial) => vial.id)}
          />
        </>
      )}
      {abilities.obstacle !== null && (
        <p>
          {number} {abilities.obstacle}
        </p>
      )}
      {abilities.fill && <FillForm key={vials.length} bird={record.data} />}
    </>
  );
}
