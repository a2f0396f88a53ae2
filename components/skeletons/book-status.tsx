import { StateBadge } from '@/components/ui/state-badge';
import { countOf, say } from '@/lib/platform/words/say';
import type { BookVerdict } from '@/lib/skeletons/rules/verdict';
import classes from './bone-book-panel.module.css';
import type { BookState } from './book-state';

/** Whether the book balances, and how much of the bird its skeleton holds. */
export function Balance({ verdict, isEmpty }: { verdict: BookVerdict; isEmpty: boolean }) {
  const { balanced, accountedFor, findings, skeleton } = verdict;
  const open = findings.filter(({ weight }) => weight === 'stop').length;
  if (isEmpty) return <StateBadge tone="attention">{say('The bone book is empty')}</StateBadge>;
  return (
    <div className={classes.acts}>
      {balanced ? (
        <StateBadge tone="settled">{say('Every bone is somewhere, once')}</StateBadge>
      ) : (
        <StateBadge tone="attention">
          {open === 1 ? say('1 bone is open') : say('{open} bones are open', { open })}
          {accountedFor && say(', and explained')}
        </StateBadge>
      )}
      <span>
        {say('{of} of {expected} in the skeleton', {
          of: countOf(skeleton.present, 'element'),
          expected: skeleton.expected,
        })}
      </span>
    </div>
  );
}

/** Why the book cannot be written in, and what others did to it meanwhile. */
export function BookNotices({ state, lock }: { state: BookState; lock: string | null }) {
  return (
    <>
      {lock !== null && <p>{lock}</p>}
      {state.lost > 0 && (
        <p role="alert">
          {say('The book was closed while you wrote: {of} could not be saved. It shows what stands.', {
            of: countOf(state.lost, 'element'),
          })}
        </p>
      )}
      {state.takenIn > 0 && (
        <p role="status">{say('Changes by somebody else were taken in; yours stand beside them.')}</p>
      )}
    </>
  );
}
