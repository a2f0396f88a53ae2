import { say } from '@/lib/platform/words/say';
import classes from './states.module.css';

/** Lines where text will be. Appears after a moment, so that fast answers do not flicker. */
export function Loading({ what = say('Loading'), lines = 4 }: { what?: string; lines?: number }) {
  return (
    <div className={classes.loading} role="status">
      <span className="f-hidden">{what}…</span>
      {Array.from({ length: lines }, (_, line) => (
        // biome-ignore lint/suspicious/noArrayIndexKey: the lines are all alike
        <span key={line} className={classes.bar} style={{ width: `${[92, 64, 78, 48][line % 4]}%` }} />
      ))}
    </div>
  );
}
