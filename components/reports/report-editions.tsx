'use client';

import { useQuery } from '@tanstack/react-query';
import { ErrorState } from '@/components/ui/error-state';
import { Link } from '@/components/ui/link';
import { Loading } from '@/components/ui/loading';
import { Moment } from '@/components/ui/moment';
import { sayWith } from '@/components/ui/say-with';
import { StateBadge } from '@/components/ui/state-badge';
import { paths } from '@/lib/platform/paths';
import { countOf, say, sayWord } from '@/lib/platform/words/say';
import type { Difference, ReportRecord } from '@/lib/reports/wire';
import { reportCheckOptions } from './queries';
import { STATE_TONES, STATE_WORDS } from './words';

/** The editions of this report, and what this one says otherwise than the one before. */
export function ReportEditions({ record }: { record: ReportRecord }) {
  return (
    <>
      <ul>
        {record.editions.map(({ id, edition, state, signedAt }) => (
          <li key={id}>
            {id === record.id ? (
              <b>{say('Edition {edition} (this one)', { edition })}</b>
            ) : (
              <Link href={paths.report(id)}>{say('Edition {edition}', { edition })}</Link>
            )}{' '}
            <StateBadge tone={STATE_TONES[state]}>{STATE_WORDS[state]}</StateBadge>{' '}
            {signedAt === null ? null : <Moment at={signedAt} />}
          </li>
        ))}
      </ul>
      {record.amendReason === null ? null : (
        <p>{say('Amended because: {amendReason}', { amendReason: record.amendReason })}</p>
      )}
      {record.difference === null ? null : (
        <>
          <h3>{say('What differs from edition {edition}', { edition: record.edition - 1 })}</h3>
          <DifferenceList difference={record.difference} />
        </>
      )}
    </>
  );
}

/** A signed report against the database as it is now. */
export function ReportCheck({ id }: { id: string }) {
  const check = useQuery(reportCheckOptions(id));
  if (check.error)
    return (
      <ErrorState
        what={say('The check did not finish.')}
        error={check.error}
        onRetry={() => void check.refetch()}
      />
    );
  if (check.data === undefined) return <Loading what={say('Checking it against the database')} lines={2} />;
  const { stillTrue, digestHolds, difference, checkedAt } = check.data;
  return (
    <>
      <p>
        {digestHolds ? (
          <StateBadge tone="settled">{say('What was signed still gives its digest')}</StateBadge>
        ) : (
          <StateBadge tone="stop">{say('What is kept does not give the digest that was signed')}</StateBadge>
        )}
      </p>
      <p>
        {sayWith('{statebadge} Checked {moment}.', {
          statebadge: stillTrue ? (
            <StateBadge tone="settled">{say('The database still gives the same report')}</StateBadge>
          ) : (
            <StateBadge tone="attention">
              {say('Entries made since would change it: amend it, or the next report shows them as late')}
            </StateBadge>
          ),
          moment: <Moment at={checkedAt} show="both" />,
        })}
      </p>
      {stillTrue ? null : <DifferenceList difference={difference} />}
    </>
  );
}

const SHOWN = 50;

function DifferenceList({ difference }: { difference: Difference }) {
  const { added, removed, changed, rows } = difference;
  if (added.length + removed.length + changed.length + rows.length === 0)
    return <StateBadge tone="settled">{say('Nothing differs')}</StateBadge>;
  const sayLine = ({ number, taxon }: Difference['added'][number]) => `${number} ${taxon}`;
  return (
    <>
      <Lines title={say('Birds added')} lines={added.map(sayLine)} />
      <Lines title={say('Birds no longer there')} lines={removed.map(sayLine)} />
      <Lines
        title={say('Lines changed')}
        lines={changed.map(({ number, changes }) => `${number}: ${sayChanges(changes)}`)}
      />
      <Lines
        title={say('Totals changed')}
        lines={rows.map(
          ({ taxon, specimenType, changes }) =>
            `${taxon}, ${sayWord(specimenType).toLowerCase()}: ${sayChanges(changes)}`,
        )}
      />
    </>
  );
}

function Lines({ title, lines }: { title: string; lines: string[] }) {
  if (lines.length === 0) return null;
  return (
    <>
      <h4>{title}</h4>
      <ul>
        {lines.slice(0, SHOWN).map((line) => (
          <li key={line}>{line}</li>
        ))}
        {lines.length > SHOWN ? (
          <li>{say('and {of}', { of: countOf(lines.length - SHOWN, 'more', 'more') })}</li>
        ) : null}
      </ul>
    </>
  );
}

const sayChanges = (changes: Difference['changed'][number]['changes']): string =>
  changes.map(({ field, from, to }) => `${sayField(field)} ${sayValue(from)} → ${sayValue(to)}`).join('; ');

const sayField = (field: string): string => field.replace(/([a-z])([A-Z])/g, '$1 $2').toLowerCase();

function sayValue(value: unknown): string {
  if (value === null || value === undefined || value === '') return 'nothing';
  return typeof value === 'object' ? JSON.stringify(value) : String(value);
}
