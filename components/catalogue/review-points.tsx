'use client';

import { Textarea } from '@mantine/core';
import { fieldId } from '@/components/ui/field-id';
import { type Reason, Reasons } from '@/components/ui/reasons';
import { countOf } from '@/components/ui/words';
import type { ReviewRecord } from '@/lib/catalogue/wire';

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
          {point.explainable ? 'Explain it, or return the record.' : 'Somebody else must act first.'}
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
            text: `${record.lacks.join('. ')}. ${record.lackExplanation === null ? 'Not explained.' : `Explained: ${record.lackExplanation}`}`,
          },
        ]
      : []),
  ];
  return (
    <Reasons
      tone={blocks.length > 0 ? 'stop' : reasons.length > 0 ? 'attention' : 'settled'}
      verdict={
        blocks.length > 0
          ? `${countOf(blocks.length, 'point')} in the way`
          : reasons.length > 0
            ? 'Nothing in the way; look at this'
            : 'Nothing in the way'
      }
      reasons={reasons}
      closing={null}
    />
  );
}

/** A field for each point that words can explain. */
export function Explanations({
  points,
  values,
  onChange,
}: {
  points: ReviewRecord['blocks'];
  values: Readonly<Record<string, string>>;
  onChange: (code: string, text: string) => void;
}) {
  return points.map((point) => (
    <Textarea
      key={point.code}
      id={fieldId(`explanations.${point.code}`)}
      label={point.sentence}
      description="Why it is right all the same. The words are kept with the approval."
      required
      rows={2}
      value={values[point.code] ?? ''}
      onChange={(event) => onChange(point.code, event.currentTarget.value)}
    />
  ));
}
