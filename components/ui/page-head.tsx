import type { ReactNode } from 'react';
import { Link } from '@/components/ui/link';
import { say } from '@/lib/platform/words/say';
import classes from './page-head.module.css';

export type Crumb = { label: string; href: string };

function Acts({ children }: { children?: ReactNode }) {
  return children ? <div className={classes.acts}>{children}</div> : null;
}

function BackTo({ crumb }: { crumb?: Crumb }) {
  return crumb ? (
    <nav aria-label={say('Where this belongs')} className={classes.back}>
      <Link href={crumb.href}>{crumb.label}</Link>
    </nav>
  ) : null;
}

/** Head of a list: what waits here, how many, what one can do. `children` are the facets. */
export function ListHead({
  title,
  count,
  intro,
  acts,
  children,
}: {
  title: string;
  /** Number with its noun: '42 birds'. */
  count?: string;
  intro?: ReactNode;
  acts?: ReactNode;
  children?: ReactNode;
}) {
  return (
    <header className={classes.head}>
      <div className={classes.row}>
        <div className={classes.words}>
          <h1>
            {title}
            {count && <span className={classes.count}>{count}</span>}
          </h1>
          {intro && <div className={classes.intro}>{intro}</div>}
        </div>
        <Acts>{acts}</Acts>
      </div>
      {children && <div className={classes.facets}>{children}</div>}
    </header>
  );
}

export type SectionLink = { id: string; label: string };

/**
 * Head of a record: its number and state, its name, its life line, and the sections below in the order of the work.
 */
export function RecordHead({
  number,
  title,
  state,
  intro,
  acts,
  saved,
  lifeLine,
  sections = [],
  back,
}: {
  number: string;
  title: ReactNode;
  state?: ReactNode;
  intro?: ReactNode;
  acts?: ReactNode;
  /** A SaveState. */
  saved?: ReactNode;
  lifeLine?: ReactNode;
  sections?: readonly SectionLink[];
  back?: Crumb;
}) {
  return (
    <header className={classes.head}>
      <BackTo crumb={back} />
      <div className={classes.row}>
        <div className={classes.words}>
          <p className={classes.over}>
            <span className={classes.number}>{number}</span>
            {state}
          </p>
          <h1>{title}</h1>
          {intro && <div className={classes.intro}>{intro}</div>}
        </div>
        <div className={classes.side}>
          {saved}
          <Acts>{acts}</Acts>
        </div>
      </div>
      {lifeLine && <div className={classes.life}>{lifeLine}</div>}
      {sections.length > 0 && (
        <nav aria-label={say('Sections of this record')} className={classes.sections}>
          {sections.map((section) => (
            <a key={section.id} href={`#${section.id}`}>
              {section.label}
            </a>
          ))}
        </nav>
      )}
    </header>
  );
}

export type DeskFigure = {
  id: string;
  label: string;
  value: string | number;
  unit?: string;
  href?: string;
  note?: string;
};

/** Head of a desk: whose it is, what is next in one sentence, and the few figures that matter to this role. */
export function DeskHead({
  title,
  lede,
  acts,
  figures = [],
}: {
  title: string;
  lede?: ReactNode;
  acts?: ReactNode;
  figures?: readonly DeskFigure[];
}) {
  return (
    <header className={classes.head}>
      <div className={classes.row}>
        <div className={classes.words}>
          <h1>{title}</h1>
          {lede && <div className={classes.lede}>{lede}</div>}
        </div>
        <Acts>{acts}</Acts>
      </div>
      {figures.length > 0 && (
        <dl className={classes.figures}>
          {figures.map((figure) => (
            <div key={figure.id} className={classes.figure}>
              <dt>{figure.href ? <Link href={figure.href}>{figure.label}</Link> : figure.label}</dt>
              <dd className={classes.value}>
                {figure.value}
                {figure.unit && <span className={classes.unit}> {figure.unit}</span>}
              </dd>
              {figure.note && <dd className={classes.note}>{figure.note}</dd>}
            </div>
          ))}
        </dl>
      )}
    </header>
  );
}
