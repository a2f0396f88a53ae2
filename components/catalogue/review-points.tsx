'use client';

import { type Reason, Reasons } from '@/components/ui/reasons';
import type { ReviewRecord } from '@/lib/catalogue/wire';
import { countOf, say } from '@/lib/platform/words/say';

/** What stands in the way of approval and what the reviewer should have seen. */
export function ReviewPoints({ record }: { record: ReviewRecord }) {
  const { blocks, notes } = record;
  const reasons: Reason[] = [
    ...blocks.map((point, index) => ({
      id: `block-${point.code}-${index}`,
      tone: 'stop' as const,
      text: (
        <>
          {point.sentence}{' '}
          {point.explainable
            ? say('Explain it, or return the record.')
            : say('Somebody else must act first.')}
        </>
      ),
    })),
    ...notes.map((point, index) => ({
      id: `note-${point.code}-${index}`,
      tone: 'attention' as const,
      text: point.sentence,
    })),
    ...(record.lacks.length > 0
      ? [
          {
            id: 'lacks',
            tone: 'attention' as const,
            text: `${record.lacks.join('. ')}. ${record.lackExplanation === null ? say('Not explained.') : say('Explained: {lackExplanation}', { lackExplanation: record.lackExplanation })}`,
          },
        ]
      : []),
  ];
  return (
    <Reasons
      tone={blocks.length > 0 ? 'stop' : reasons.length > 0 ? 'attention' : 'settled'}
      verdict={
        blocks.length > 0
          ? say('{of} in the way', { of: countOf(blocks.length, 'point') })
          : reasons.length > 0
            ? say('Nothing in the way; look at this')
            : say('Nothing in the way')
      }
      reasons={reasons}
      closing={null}
    />
  );
}
