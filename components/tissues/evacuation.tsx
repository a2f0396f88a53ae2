'use client';

import { Button } from '@mantine/core';
import { useQuery } from '@tanstack/react-query';
import Link from 'next/link';
import { useState } from 'react';
import { CautionCard } from '@/components/ui/caution-card';
import { DataList } from '@/components/ui/data-list';
import { EmptyState } from '@/components/ui/empty-state';
import { countOf } from '@/components/ui/words';
import { paths } from '@/lib/platform/paths';
import type { EvacuationList } from '@/lib/tissues/wire';
import { evacuationOptions } from './queries';

type Step = EvacuationList['steps'][number];

/** When a freezer fails: which box leaves first, and where there is room for it. */
export function Evacuation({ unitId }: { unitId: string }) {
  const [open, setOpen] = useState(false);
  if (!open) {
    return (
      <Button variant="default" onClick={() => setOpen(true)}>
        Plan the evacuation
      </Button>
    );
  }
  return (
    <>
      <CautionCard
        title="Dry ice and liquid nitrogen"
        source="Common practice, no source"
        closing="Local rules decide."
      >
        <p>
          Both drive the air out of a small room and burn the skin. Open doors, wear insulated gloves and a
          face shield, never carry them in a closed car or lift with people in it.
        </p>
      </CautionCard>
      <Plan unitId={unitId} />
    </>
  );
}

function Plan({ unitId }: { unitId: string }) {
  const plan = useQuery(evacuationOptions(unitId));
  return (
    <DataList<Step>
      label="Boxes in the order in which they leave"
      columns={[
        {
          id: 'box',
          head: 'Box',
          cell: (step) => (
            <>
              {step.rank}. {step.pathName.split(' › ').slice(-2).join(' › ')}
              <br />
              {countOf(step.vials, 'vial')}
            </>
          ),
        },
        { id: 'why', head: 'Why in this order', cell: (step) => step.reasons.join('; ') },
        {
          id: 'where',
          head: 'Where to',
          cell: (step) => (
            <>
              {step.refuge === null ? null : (
                <Link href={paths.storageUnit(step.refuge.unitId)}>{step.refuge.pathName}</Link>
              )}
              {step.remark !== null && <div>{step.remark}</div>}
            </>
          ),
        },
      ]}
      rows={plan.data?.steps}
      rowId={(step) => step.boxId}
      rowHref={(step) => paths.storageUnit(step.boxId)}
      error={plan.error}
      onRetry={() => void plan.refetch()}
      empty={<EmptyState title="No vial lies in it" />}
    />
  );
}
