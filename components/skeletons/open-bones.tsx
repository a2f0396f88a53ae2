'use client';

import { Textarea } from '@mantine/core';
import { say } from '@/lib/platform/words/say';
import type { BookVerdict } from '@/lib/skeletons/rules/verdict';
import { BoneFindings } from './bone-findings';

/** What keeps the book from balancing, and the word of explanation that approval then needs. */
export function OpenBones({
  verdict,
  isEmpty,
  explanation,
  readOnly,
  onChoose,
  onExplain,
}: {
  verdict: BookVerdict;
  isEmpty: boolean;
  explanation: string;
  readOnly: boolean;
  onChoose: (key: string) => void;
  onExplain: (words: string) => void;
}) {
  const wanted = (!verdict.balanced && !isEmpty) || explanation !== '';
  return (
    <section aria-labelledby="open-bones">
      <h3 id="open-bones">{say('What is open')}</h3>
      <BoneFindings findings={verdict.findings} isEmpty={isEmpty} onChoose={onChoose} />
      {wanted &&
        (readOnly ? (
          explanation !== '' && <p>{say('Explained: “{explanation}”', { explanation })}</p>
        ) : (
          <Textarea
            label={say('Why the book need not balance')}
            description={say('Needed for approval as long as something is open.')}
            autosize
            minRows={2}
            maxLength={2000}
            value={explanation}
            onChange={(event) => onExplain(event.currentTarget.value)}
          />
        ))}
    </section>
  );
}
