import { countOf } from '@/lib/platform/words/say';
import type { UnitRow } from '@/lib/storage/wire';
import classes from './unit-tree.module.css';
import { sayLoad } from './words';

/** How full a unit is: a thin bar where it has an end, and the figures. */
export function LoadBar({ unit }: { unit: Pick<UnitRow, 'load' | 'places' | 'materials' | 'kind'> }) {
  const { load, places, materials } = unit;
  const share = places === null || places === 0 ? null : Math.min(1, load / places);
  return (
    <span className={classes.load}>
      {share !== null && (
        <svg className={classes.bar} viewBox="0 0 100 8" preserveAspectRatio="none" aria-hidden="true">
          <rect x="0.5" y="0.5" width="99" height="7" className={classes.rail} />
          <rect
            x="0.5"
            y="0.5"
            width={99 * share}
            height="7"
            className={classes.fill}
            data-full={share === 1 || undefined}
          />
        </svg>
      )}
      <span className={classes.figures}>
        {share === null ? countOf(materials, 'material') : sayLoad(load, places)}
        {share !== null && materials !== load && `, ${countOf(materials, 'material')}`}
      </span>
    </span>
  );
}
