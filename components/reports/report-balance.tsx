import { Link } from '@/components/ui/link';
import { StateBadge } from '@/components/ui/state-badge';
import { say } from '@/lib/platform/words/say';
import { equationParts, NIL_STATEMENT } from '@/lib/reports/rules/words';
import type { RuleCheck } from '@/lib/reports/schema';
import type { ReportRecord } from '@/lib/reports/wire';
import classes from './report-balance.module.css';
import { drillPath } from './words';

/** The equation, each number open to its birds, and the nine rules it was proved by. */
export function ReportBalance({ record }: { record: ReportRecord }) {
  const { report } = record;
  return (
    <>
      {report.nil ? <p>{NIL_STATEMENT}</p> : null}
      <ul className={classes.equation} aria-label={report.equation}>
        {equationParts(report).map(({ sign, label, figure, value }, index) => (
          <li key={figure} className={classes.part} data-total={sign === '=' || undefined}>
            <span className={classes.sign}>{index === 0 ? '' : sign}</span>
            <span className={classes.value}>
              {value === 0 ? value : <Link href={drillPath(record.id, { figure })}>{value}</Link>}
            </span>
            <span className={classes.label}>{label}</span>
          </li>
        ))}
      </ul>
      <ul className={classes.checks} aria-label={say('How the balance was checked')}>
        {report.checks.map((check) => (
          <Check key={check.rule} check={check} />
        ))}
      </ul>
    </>
  );
}

const SHOWN_DETAILS = 5;

function Check({ check }: { check: RuleCheck }) {
  const { rule, title, holds, details } = check;
  const more = details.length - SHOWN_DETAILS;
  return (
    <li className={classes.check}>
      <span>
        {rule}. {title}
      </span>
      {holds === null ? (
        <StateBadge>{say('Nothing to compare with')}</StateBadge>
      ) : (
        <StateBadge tone={holds ? 'settled' : 'attention'}>
          {holds ? say('Holds|is right') : say('Does not hold')}
        </StateBadge>
      )}
      {details.length > 0 ? (
        <p className={classes.details}>
          {details.slice(0, SHOWN_DETAILS).join('; ')}
          {more > 0 ? say('; and {more} more', { more }) : ''}
        </p>
      ) : null}
    </li>
  );
}
