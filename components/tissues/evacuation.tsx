'use client';

import { Button } from '@mantine/core';
import { useQuery } from '@tanstack/react-query';
import { useState } from 'react';
import { CautionCard } from '@/components/ui/caution-card';
import { DataList } from '@/components/ui/data-list';
import { EmptyState } from '@/components/ui/empty-state';
import { Link } from '@/components/ui/link';
import { paths } from '@/lib/platform/paths';
import { countOf, say } from '@/lib/platform/words/say';
import type { EvacuationList } from '@/lib/tissues/wire';
import { evacuationOptions } from './queries';

type Step = EvacuationList['steps'][number];

/** When a freezer fails: which box leaves first, and where there is room for it. */
export function Evacuation({ unitId }: { unitId: string }) {
  const [open, setOpen] = useState(false);
  if (!open) {
    return (
      <Button variant="default" onClick={() => setOpen(true)}>
        {say('Plan the evacuation')}
      </Button>
    );
  }
  return (
    <>
      <CautionCard
        title={say('Dry ice and liquid nitrogen')}
        source={say('Common practice, no source')}
        closing={say('Local rules decide.')}
      >
        <p>
          {say(
            'Both drive the air out of a small room and burn the skin. Open doors, wear insulated gloves and a face shield, never carry them in a closed car or lift with people in it.',
          )}
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
      label={say('Boxes in the order in which they leave')}
      columns={[
        {
          id: 'box',
          head: say('Box'),
          cell: (step) => (
            <>
              {step.rank}. {step.pathName.split(' › ').slice(-2).join(' › ')}
              <br />
              {countOf(step.vials, 'vial')}
            </>
          ),
        },
        { id: 'why', head: say('Why in this order'), cell: (step) => step.reasons.join('; ') },
        {
          id: 'where',
          head: say('Where to'),
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
      empty={<EmptyState title={say('No vial lies in it')} />}
    />
  );
}
