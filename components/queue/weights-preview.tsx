'use client';

import { useDebouncedValue } from '@mantine/hooks';
import { useQuery } from '@tanstack/react-query';
import { Section } from '@/components/ui/facts';
import { problemOf } from '@/components/ui/problem';
import { countOf, say } from '@/lib/platform/words/say';
import type { WeightsAndScales } from '@/lib/queue/settings-wire';
import { previewOptions } from './settings-queries';

/** The birds that would change places, the farthest first, before anything is saved. */
export function WeightsPreview({ proposal }: { proposal: WeightsAndScales }) {
  const [settled] = useDebouncedValue(proposal, 300);
  const { data, error } = useQuery(previewOptions(settled));
  return (
    <Section id="preview" title={say('What this would change')} note={say('Nothing is saved yet.')}>
      {error === null ? null : <p role="alert">{problemOf(error).title}</p>}
      {data === undefined ? (
        <p role="status">{say('Looking…')}</p>
      ) : data.movedCount === 0 ? (
        <p role="status">{say('No bird would change its place.')}</p>
      ) : (
        <>
          <p role="status">
            {say('{of} would change places, {of2} would not.{x}', {
              of: countOf(data.movedCount, 'bird'),
              of2: countOf(data.unmoved, 'bird'),
              x:
                data.movedCount > data.moved.length
                  ? say(' The {length} that move farthest:', { length: data.moved.length })
                  : '',
            })}
          </p>
          <ul>
            {data.moved.map((bird) => (
              <li key={bird.birdId}>
                {say('{label}: from place {rankBefore} ({round}) to place {rankAfter} ({round2})', {
                  label: bird.label,
                  rankBefore: bird.rankBefore,
                  round: Math.round(bird.totalBefore),
                  rankAfter: bird.rankAfter,
                  round2: Math.round(bird.totalAfter),
                })}
              </li>
            ))}
          </ul>
        </>
      )}
    </Section>
  );
}
