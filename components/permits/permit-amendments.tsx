import { Moment } from '@/components/ui/moment';
import { sayWith } from '@/components/ui/say-with';
import type { PermitRecord } from '@/lib/permits/wire';
import { sayDay } from '@/lib/platform/say-dates';
import { say } from '@/lib/platform/words/say';
import { ClauseList } from './clause-list';
import classes from './permits.module.css';

/** What each amendment replaced, the latest first; the old text opens on demand. */
export function PermitAmendments({ permit }: { permit: PermitRecord }) {
  if (permit.amendments.length === 0) return <p>{say('The permit stands as it was first entered.')}</p>;
  return (
    <ol className={classes.rules} reversed>
      {permit.amendments.toReversed().map((amendment) => (
        <li key={amendment.version} className={classes.rule}>
          <p>
            <b>{say('From {day}', { day: sayDay(amendment.effectiveOn) })}</b>: {amendment.reason}
          </p>
          <p className={classes.over}>
            {sayWith('entered by {amendedBy}, {moment}', {
              amendedBy: amendment.amendedBy,
              moment: <Moment at={amendment.amendedAt} />,
            })}
          </p>
          <details>
            <summary>{say('The text before')}</summary>
            <p className={classes.over}>
              {say('until {day}. Sub-permittees:{subPermittees}', {
                day:
                  amendment.before.expiresOn === null
                    ? say('no end named')
                    : sayDay(amendment.before.expiresOn),
                subPermittees:
                  amendment.before.subPermittees.map(({ name }) => name).join(', ') || say('none'),
              })}
            </p>
            <ClauseList clauses={amendment.before.clauses} anchor={false} />
          </details>
        </li>
      ))}
    </ol>
  );
}
