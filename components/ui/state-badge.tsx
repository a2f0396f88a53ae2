import type { ReactNode } from 'react';
import type { Tone } from './colours';
import classes from './state-badge.module.css';
import { ToneIcon } from './tone-icon';

/** A state as icon and word: amber wants attention, brick stops, moss is settled, ink means nothing special. */
export function StateBadge({
  tone = 'neutral',
  icon,
  children,
}: {
  tone?: Tone;
  /** Instead of the tone's own shape. */
  icon?: ReactNode;
  children: ReactNode;
}) {
  return (
    <span className={classes.badge} data-tone={tone}>
      {icon ?? <ToneIcon tone={tone} size={16} />}
      <span>{children}</span>
    </span>
  );
}
