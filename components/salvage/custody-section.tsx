'use client';

import { Button } from '@mantine/core';
import { useState } from 'react';
import { DataList } from '@/components/ui/data-list';
import { Section } from '@/components/ui/facts';
import { whenOpened } from '@/components/ui/later';
import { Moment } from '@/components/ui/moment';
import { StateBadge } from '@/components/ui/state-badge';
import { say } from '@/lib/platform/words/say';
import type { SalvageRecord } from '@/lib/salvage/wire';
import type { FindAct } from './queries';

const GiveForm = whenOpened(() => import('./custody-forms').then((module) => module.GiveForm));
const BandForm = whenOpened(() => import('./custody-forms').then((module) => module.BandForm));

/** The way of the bird from hand to hand. */
export function CustodySection({ find, act }: { find: SalvageRecord; act: FindAct }) {
  const [giving, setGiving] = useState(false);
  const [banding, setBanding] = useState(false);
  const { abilities } = find;
  return (
    <Section
      id="custody"
      title={say('Custody')}
      note={say('With {to} now', { to: find.custody.at(-1)?.to ?? say('the finder') })}
      acts={
        <>
          {abilities.handOver && !giving ? (
            <Button
              variant="default"
              onPointerEnter={GiveForm.prepare}
              onFocus={GiveForm.prepare}
              onClick={() => setGiving(true)}
            >
              {say('Hand it over')}
            </Button>
          ) : null}
          {abilities.reportBand && !banding ? (
            <Button
              variant="default"
              onPointerEnter={BandForm.prepare}
              onFocus={BandForm.prepare}
              onClick={() => setBanding(true)}
            >
              {say('Band was reported')}
            </Button>
          ) : null}
        </>
      }
    >
      {find.custodyGaps.map((gap) => (
        <p key={gap}>
          <StateBadge tone="attention">{gap}</StateBadge>
        </p>
      ))}
      {giving ? <GiveForm find={find} act={act} onDone={() => setGiving(false)} /> : null}
      {banding ? <BandForm find={find} act={act} onDone={() => setBanding(false)} /> : null}
      <DataList
        label={say('From hand to hand')}
        columns={[
          { id: 'at', head: say('When'), cell: (step) => <Moment at={step.at} show="both" /> },
          { id: 'from', head: say('From'), cell: (step) => step.from },
          { id: 'to', head: say('To'), cell: (step) => step.to },
          { id: 'note', head: say('Note'), cell: (step) => step.note ?? '' },
        ]}
        rows={find.custody}
        rowId={(step) => step.id}
      />
    </Section>
  );
}
