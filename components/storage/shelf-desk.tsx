'use client';

import { useState } from 'react';
import { problemOf } from '@/components/ui/problem';
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
          setMessage({ tone: 'settled', text: `${material?.label} lies in ${unit.name} now.` }),
        onError: (error) =>
          setMessage({ tone: 'stop', text: problemOf(error).title ?? 'Nothing was moved.' }),
      },
    );
  return (
    <ScanBox
      label={`Put into ${unit.name}`}
      help="Scan or type the number of each thing that goes in."
      busy={move.isPending}
      message={message}
      onCode={put}
    />
  );
}
