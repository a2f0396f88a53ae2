import { Moment } from '@/components/ui/moment';
import type { PermitRecord } from '@/lib/permits/wire';
import { sayDay } from '@/lib/platform/say-dates';
import { ClauseList } from './clause-list';
import classes from './permits.module.css';

/** What each amendment replaced, the latest first; the old text opens on demand. */
export function PermitAmendments({ permit }: { permit: PermitRecord }) {
  if (permit.amendments.length === 0) return <p>The permit stands as it was first entered.</p>;
  return (
    <ol className={classes.rules} reversed>
      {permit.amendments.toReversed().map((amendment) => (
        <li key={amendment.version} className={classes.rule}>
          <p>
            <b>From {sayDay(amendment.effectiveOn)}</b>: {amendment.reason}
          </p>
          <p className={classes.over}>
            entered by {amendment.amendedBy}, <Moment at={amendment.amendedAt} />
          </p>
          <details>
            <summary>The text before</summary>
            <p className={classes.over}>
              until{' '}
              {amendment.before.expiresOn === null ? 'no end named' : sayDay(amendment.before.expiresOn)}.
              Sub-permittees:
              {amendment.before.subPermittees.map(({ name }) => name).join(', ') || 'none'}
            </p>
            <ClauseList clauses={amendment.before.clauses} anchor={false} />
          </details>
        </li>
      ))}
    </ol>
  );
}
