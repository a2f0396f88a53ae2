import type { ReactNode } from 'react';
import classes from './report-sections.module.css';

/** A section whose tables take the whole width; its id is its address. */
export function WideSection(props: { id: string; title: string; note?: string; children: ReactNode }) {
  const { id, title, note, children } = props;
  return (
    <section id={id} className={classes.wide} aria-labelledby={`${id}-title`}>
      <h2 id={`${id}-title`}>{title}</h2>
      {note === undefined ? null : <p className={classes.note}>{note}</p>}
      {children}
    </section>
  );
}
