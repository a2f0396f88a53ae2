import type { ReactNode } from 'react';
import classes from './facts.module.css';

/** One section of a record on its scrolling page; its id is its address (#mass). */
export function Section({
  id,
  title,
  note,
  acts,
  children,
}: {
  id: string;
  title: string;
  note?: ReactNode;
  acts?: ReactNode;
  children: ReactNode;
}) {
  return (
    <section id={id} className={classes.section} aria-labelledby={`${id}-title`}>
      <div className={classes.aside}>
        <h2 id={`${id}-title`}>{title}</h2>
        {note && <div className={classes.note}>{note}</div>}
        {acts && <div className={classes.acts}>{acts}</div>}
      </div>
      <div className={classes.content}>{children}</div>
    </section>
  );
}

/** What is known, term by term. Holds Fact. */
export function Facts({ children }: { children: ReactNode }) {
  return <dl className={classes.facts}>{children}</dl>;
}

/** One fact. `note` says how it is known or what was replaced; `wide` takes the whole width. */
export function Fact({
  term,
  children,
  note,
  wide = false,
  changed = false,
}: {
  term: string;
  children: ReactNode;
  note?: ReactNode;
  wide?: boolean;
  /** Somebody else just changed it: glows once. */
  changed?: boolean;
}) {
  return (
    <div className={classes.fact} data-wide={wide || undefined} data-changed={changed || undefined}>
      <dt>{term}</dt>
      <dd>
        {children}
        {note && <div className={classes.small}>{note}</div>}
      </dd>
    </div>
  );
}
