import type { ReactNode } from 'react';
import { sayWith } from '@/components/ui/say-with';
import { say } from '@/lib/platform/words/say';
import classes from './charts.module.css';
import { csvAddress, type Figures } from './figures';
import { Hatches, hatchOf } from './hatches';

/**
 * A chart with its title, what it says in words, the key of its series, and its figures as a table to open and to
 * download. `hatchId` is the one that the drawing fills its series with.
 */
export function ChartFigure({
  title,
  summary,
  note,
  series = [],
  hatchId,
  figures,
  children,
}: {
  title: string;
  summary: string;
  note?: ReactNode;
  series?: readonly string[];
  hatchId: string;
  figures: Figures;
  children: ReactNode;
}) {
  return (
    <figure className={classes.figure} aria-label={title}>
      <Hatches id={hatchId} />
      <h2>{title}</h2>
      <p className={classes.summary}>{summary}</p>
      {series.length > 1 ? (
        <ul className={classes.key} aria-label={say('Key')}>
          {series.map((label, at) => (
            <li key={label}>
              <svg width="20" height="14" aria-hidden="true">
                <rect className={classes.bar} width="20" height="14" fill={hatchOf(hatchId, at)} />
              </svg>
              {label}
            </li>
          ))}
        </ul>
      ) : null}
      {children}
      {note ? <figcaption className={classes.note}>{note}</figcaption> : null}
      <div className={classes.foot}>
        <details>
          <summary>{say('The figures')}</summary>
          <FiguresTable figures={figures} label={title} />
        </details>
        <a href={csvAddress(figures)} download={`${figures.name}.csv`}>
          {sayWith('As CSV{span}', { span: <span className="f-hidden">: {title}</span> })}
        </a>
      </div>
    </figure>
  );
}

function FiguresTable({ figures: { columns, rows }, label }: { figures: Figures; label: string }) {
  return (
    // biome-ignore lint/a11y/noNoninteractiveTabindex: a wide table is scrolled by keyboard, too
    <section className={classes.scroll} aria-label={say('Figures: {label}', { label })} tabIndex={0}>
      <table className={classes.table}>
        <thead>
          <tr>
            {columns.map((column) => (
              <th key={column.label} scope="col" data-numeric={column.numeric || undefined}>
                {column.label}
              </th>
            ))}
          </tr>
        </thead>
        <tbody>
          {rows.map((row) => (
            <tr key={row.slice(0, 2).join(' ')}>
              {columns.map((column, at) =>
                at === 0 ? (
                  <th key={column.label} scope="row">
                    {row[at]}
                  </th>
                ) : (
                  <td key={column.label} data-numeric={column.numeric || undefined}>
                    {row[at]}
                  </td>
                ),
              )}
            </tr>
          ))}
        </tbody>
      </table>
    </section>
  );
}
