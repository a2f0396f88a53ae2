'use client';

import { useQuery } from '@tanstack/react-query';
import Link from 'next/link';
import { ErrorState } from '@/components/ui/error-state';
import { Loading } from '@/components/ui/loading';
import { Moment } from '@/components/ui/moment';
import { StateBadge } from '@/components/ui/state-badge';
import { countOf, sayWord } from '@/components/ui/words';
import { paths } from '@/lib/platform/paths';
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
              <b>Edition {edition} (this one)</b>
            ) : (
              <Link href={paths.report(id)}>Edition {edition}</Link>
            )}{' '}
            <StateBadge tone={STATE_TONES[state]}>{STATE_WORDS[state]}</StateBadge>{' '}
            {signedAt === null ? null : <Moment at={signedAt} />}
          </li>
        ))}
      </ul>
      {record.amendReason === null ? null : <p>Amended because: {record.amendReason}</p>}
      {record.difference === null ? null : (
        <>
          <h3>What differs from edition {record.edition - 1}</h3>
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
      <ErrorState what="The check did not finish." error={check.error} onRetry={() => void check.refetch()} />
    );
  if (check.data === undefined) return <Loading what="Checking it against the database" lines={2} />;
  const { stillTrue, digestHolds, difference, checkedAt } = check.data;
  return (
    <>
      <p>
        {digestHolds ? (
          <StateBadge tone="settled">What was signed still gives its digest</StateBadge>
        ) : (
          <StateBadge tone="stop">What is kept does not give the digest that was signed</StateBadge>
        )}
      </p>
      <p>
        {stillTrue ? (
          <StateBadge tone="settled">The database still gives the same report</StateBadge>
        ) : (
          <StateBadge tone="attention">
            Entries made since would change it: amend it, or the next report shows them as late
          </StateBadge>
        )}{' '}
        Checked <Moment at={checkedAt} show="both" />.
      </p>
      {stillTrue ? null : <DifferenceList difference={difference} />}
    </>
  );
}

const SHOWN = 50;

function DifferenceList({ difference }: { difference: Difference }) {
  const { added, removed, changed, rows } = difference;
  if (added.length + removed.length + changed.length + rows.length === 0)
    return <StateBadge tone="settled">Nothing differs</StateBadge>;
  const sayLine = ({ number, taxon }: Difference['added'][number]) => `${number} ${taxon}`;
  return (
    <>
      <Lines title="Birds added" lines={added.map(sayLine)} />
      <Lines title="Birds no longer there" lines={removed.map(sayLine)} />
      <Lines
        title="Lines changed"
        lines={changed.map(({ number, changes }) => `${number}: ${sayChanges(changes)}`)}
      />
      <Lines
        title="Totals changed"
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
        {lines.length > SHOWN ? <li>and {countOf(lines.length - SHOWN, 'more', 'more')}</li> : null}
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
