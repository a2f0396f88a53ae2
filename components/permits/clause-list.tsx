import type { PermitClause } from '@/lib/permits/permit-schema';
import { nameClause, sayClause } from '@/lib/permits/rules/sentences';
import { say } from '@/lib/platform/words/say';
import classes from './permits.module.css';

/** Clauses as sentences, each under its number and with the document's own words. */
export function ClauseList({
  clauses,
  anchor = true,
}: {
  clauses: readonly PermitClause[];
  anchor?: boolean;
}) {
  if (clauses.length === 0) {
    return <p>{say('No clause is entered: only dates, place and holder are checked.')}</p>;
  }
  return (
    <ol className={classes.clauses}>
      {clauses.map((clause) => (
        <li key={clause.id} id={anchor ? `clause-${clause.id}` : undefined}>
          <p className={classes.over}>
            <span className={classes.id}>{clause.id}</span> {nameClause(clause.kind)}
          </p>
          <p>{sayClause(clause)}</p>
          {clause.text === '' ? null : <blockquote className={classes.quote}>{clause.text}</blockquote>}
        </li>
      ))}
    </ol>
  );
}
