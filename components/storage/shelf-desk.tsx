'use client';

import { useState } from 'react';
import { problemOf } from '@/components/ui/problem';
import { say } from '@/lib/platform/words/say';
import type { UnitRecord } from '@/lib/storage/wire';
import { useMoveMaterials } from './queries';
import { ScanBox, type ScanMessage } from './scan-box';

/** A place without positions: each scan puts one more into it. */
export function ShelfDesk({ unit }: { unit: UnitRecord }) {
  const move = useMoveMaterials();
  const [message, setMessage] = useState<ScanMessage | null>(null);
  if (!unit.abilities.move || unit.kind === 'site' || unit.kind === 'room') return null;
  const put = (code: string) =>
    move.mutate(
      { moves: [{ code, to: { unitId: unit.id } }] },
      {
        onSuccess: ({ materials: [material] }) =>
          setMessage({
            tone: 'settled',
            text: say('{label} lies in {name} now.', { label: material?.label, name: unit.name }),
          }),
        onError: (error) =>
          setMessage({ tone: 'stop', text: problemOf(error).title ?? say('Nothing was moved.') }),
      },
    );
  return (
    <ScanBox
      label={say('Put into {name}', { name: unit.name })}
      help={say('Scan or type the number of each thing that goes in.')}
      busy={move.isPending}
      message={message}
      onCode={put}
    />
  );
}
