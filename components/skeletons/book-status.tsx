import { StateBadge } from '@/components/ui/state-badge';
import { countOf } from '@/components/ui/words';
import type { BookVerdict } from '@/lib/skeletons/rules/verdict';
import classes from './bone-book-panel.module.css';
import type { BookState } from './book-state';

/** Whether the book balances, and how much of the bird its skeleton holds. */
export function Balance({ verdict, isEmpty }: { verdict: BookVerdict; isEmpty: boolean }) {
  const { balanced, accountedFor, findings, skeleton } = verdict;
  const open = findings.filter(({ weight }) => weight === 'stop').length;
  if (isEmpty) return <StateBadge tone="attention">The bone book is empty</StateBadge>;
  return (
    <div className={classes.acts}>
      {balanced ? (
        <StateBadge tone="settled">Every bone is somewhere, once</StateBadge>
      ) : (
        <StateBadge tone="attention">
          {open === 1 ? '1 bone is open' : `${open} bones are open`}
          {accountedFor && ', and explained'}
        </StateBadge>
      )}
      <span>
        {countOf(skeleton.present, 'element')} of {skeleton.expected} in the skeleton
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
          The book was closed while you wrote: {countOf(state.lost, 'element')} could not be saved. It shows
          what stands.
        </p>
      )}
      {state.takenIn > 0 && (
        <p role="status">Changes by somebody else were taken in; yours stand beside them.</p>
      )}
    </>
  );
}
