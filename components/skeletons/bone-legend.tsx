import { useId } from 'react';
import { say, sayCode } from '@/lib/platform/words/say';
import type { BoneEntry } from '@/lib/skeletons/schema';
import { PLACES } from '@/lib/skeletons/words';
import styles from './bone-plate.module.css';
import { HatchDefs, hatchId } from './hatches';

/** The places with their fill, hatch, key and how many entries are there. */
export function BoneLegend({
  entries,
  showKeys = true,
}: {
  entries: readonly BoneEntry[];
  showKeys?: boolean;
}) {
  const prefix = useId().replace(/\W/g, '');
  return (
    <div className={styles.plate}>
      <svg width="0" height="0" aria-hidden="true" style={{ position: 'absolute', width: 0 }}>
        <defs>
          <HatchDefs prefix={prefix} />
        </defs>
      </svg>
      <ul className={styles.legend} aria-label={say('Where the bones go')}>
        {PLACES.map((place, index) => (
          <li key={place}>
            <svg viewBox="0 0 36 20" aria-hidden="true" data-place={place}>
              <rect className={styles.fill} width="36" height="20" />
              <rect width="36" height="20" fill={`url(#${hatchId(prefix, place)})`} />
              <rect className={styles.outline} x="0.6" y="0.6" width="34.8" height="18.8" />
            </svg>
            <span>{sayCode(place)}</span>
            {showKeys && <kbd>{index + 1}</kbd>}
            <span className={styles.count}>{entries.filter((entry) => entry.place === place).length}</span>
          </li>
        ))}
      </ul>
    </div>
  );
}
