'use client';

import { useDebouncedValue } from '@mantine/hooks';
import { useQuery } from '@tanstack/react-query';
import { Section } from '@/components/ui/facts';
import { problemOf } from '@/components/ui/problem';
import { countOf } from '@/components/ui/words';
import type { WeightsAndScales } from '@/lib/queue/settings-wire';
import { previewOptions } from './plan-queries';

/** The birds that would change places, the farthest first, before anything is saved. */
export function WeightsPreview({ proposal }: { proposal: WeightsAndScales }) {
  const [settled] = useDebouncedValue(proposal, 300);
  const { data, error } = useQuery(previewOptions(settled));
  return (
    <Section id="preview" title="What this would change" note="Nothing is saved yet.">
      {error === null ? null : <p role="alert">{problemOf(error).title}</p>}
      {data === undefined ? (
        <p role="status">Looking…</p>
      ) : data.movedCount === 0 ? (
        <p role="status">No bird would change its place.</p>
      ) : (
        <>
          <p role="status">
            {countOf(data.movedCount, 'bird')} would change places, {countOf(data.unmoved, 'bird')} would not.
            {data.movedCount > data.moved.length ? ` The ${data.moved.length} that move farthest:` : ''}
          </p>
          <ul>
            {data.moved.map((bird) => (
              <li key={bird.birdId}>
                {bird.label}: from place {bird.rankBefore} ({Math.round(bird.totalBefore)}) to place{' '}
                {bird.rankAfter} ({Math.round(bird.totalAfter)})
              </li>
            ))}
          </ul>
        </>
      )}
    </Section>
  );
}
