import type { ReactNode } from 'react';
import classes from './states.module.css';

/** Nothing here, and that is no failure: says so, says when something will be, and offers the next act. */
export function EmptyState({
  title,
  children,
  act,
}: {
  title: string;
  children?: ReactNode;
  act?: ReactNode;
}) {
  return (
    <div className={classes.empty}>
      <svg width="120" height="40" viewBox="0 0 120 40" aria-hidden="true" focusable="false">
        <path d="M8 20H64C84 20 82 7 104 7M64 20H104M64 20C84 20 82 33 104 33" />
        <circle cx="8" cy="20" r="4" />
        <circle cx="40" cy="20" r="4" />
        <circle cx="108" cy="7" r="4" />
        <circle cx="108" cy="20" r="4" />
        <circle cx="108" cy="33" r="4" />
      </svg>
      <p className={classes.title}>{title}</p>
      {children && <div className={classes.words}>{children}</div>}
      {act && <div className={classes.acts}>{act}</div>}
    </div>
  );
}
