'use client';

import { ConflictMerge } from '@/components/ui/conflict-merge';
import { say, sayWord } from '@/lib/platform/words/say';
import { elementName, portionName } from '@/lib/skeletons/elements';
import { whereabouts } from '@/lib/skeletons/rules/entries';
import type { BoneEntry } from '@/lib/skeletons/schema';
import { type BookDraft, type BookState, conflictField, settleConflict } from './book-state';

const EXPLANATION = 'explanation';

/** Lines of one element in words; a mark keeps two that read alike apart. */
const sayLines = (lines: readonly BoneEntry[]): string =>
  lines.length === 0
    ? say('not in the book')
    : lines
        .map((line) => {
          const part = line.portion === 'whole' ? '' : `${portionName(line.element, line.portion)}: `;
          const broken = line.state === 'broken' ? ', broken' : '';
          return `${part}${whereabouts(line)}${broken}${line.note === null ? '' : ` (${line.note})`}`;
        })
        .join('; ');

/** Both changed the same element: each is shown in both versions, and the person chooses. */
export function BookConflict({
  state,
  onSettle,
  onTakeTheirs,
}: {
  state: BookState;
  onSettle: (draft: BookDraft) => void;
  onTakeTheirs: () => void;
}) {
  const { conflict } = state;
  if (conflict === null) return null;
  const fields = conflict.elements.map((one) => ({
    name: conflictField(one),
    label: sayWord(elementName(one.element, one.side)),
  }));
  const mine: Record<string, string> = {};
  const theirs: Record<string, string> = {};
  for (const one of conflict.elements) {
    mine[conflictField(one)] = sayLines(one.mine);
    theirs[conflictField(one)] = sayLines(one.theirs);
  }
  if (conflict.explanation !== null) {
    fields.push({ name: EXPLANATION, label: say('Explanation') });
    mine[EXPLANATION] = conflict.explanation.mine;
    theirs[EXPLANATION] = conflict.explanation.theirs;
  }
  return (
    <ConflictMerge<Record<string, string>>
      fields={fields}
      mine={mine}
      theirs={theirs}
      who={say('Somebody else')}
      onMerge={(chosen) => {
        const draft = settleConflict(state, (field) => (chosen[field] === mine[field] ? 'mine' : 'theirs'));
        if (draft !== null) onSettle(draft);
      }}
      onTakeTheirs={onTakeTheirs}
    />
  );
}
