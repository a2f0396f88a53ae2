'use client';

import { ToneIcon } from '@/components/ui/tone-icon';
import { say } from '@/lib/platform/words/say';
import type { BoneFinding } from '@/lib/skeletons/rules/conservation';
import { nameOf } from '@/lib/skeletons/rules/entries';
import classes from './bone-book-panel.module.css';

const MOST = 12;

/** What keeps the book from balancing, each a way to its bone; and what is worth a look. */
export function BoneFindings({
  findings,
  isEmpty,
  onChoose,
}: {
  findings: readonly BoneFinding[];
  isEmpty: boolean;
  onChoose: (key: string) => void;
}) {
  if (isEmpty) return <p>{say('Nothing is written yet. Begin with the usual split.')}</p>;
  if (findings.length === 0) return <p>{say('Nothing: no bone is in two places or in none.')}</p>;
  const shown = [...findings].sort((a, b) => rank(a) - rank(b)).slice(0, MOST);
  return (
    <>
      <ul className={classes.findings}>
        {shown.map((finding) => (
          <li key={`${finding.code}/${nameOf(finding)}`}>
            <ToneIcon tone={finding.weight === 'stop' ? 'attention' : 'neutral'} />
            <button type="button" onClick={() => onChoose(nameOf(finding))}>
              {finding.message}
            </button>
          </li>
        ))}
      </ul>
      {findings.length > shown.length && (
        <p>{say('and {length} more.', { length: findings.length - shown.length })}</p>
      )}
    </>
  );
}

const rank = ({ weight }: BoneFinding): number => (weight === 'stop' ? 0 : 1);
