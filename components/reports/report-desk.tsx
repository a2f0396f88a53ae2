'use client';

import { Button } from '@mantine/core';
import { useQuery } from '@tanstack/react-query';
import { useRouter } from 'next/navigation';
import { DataList } from '@/components/ui/data-list';
import { EmptyState } from '@/components/ui/empty-state';
import { ErrorState } from '@/components/ui/error-state';
import { Loading } from '@/components/ui/loading';
import { Moment } from '@/components/ui/moment';
import { DeskHead } from '@/components/ui/page-head';
import { problemOf } from '@/components/ui/problem';
import { StateBadge } from '@/components/ui/state-badge';
import { paths } from '@/lib/platform/paths';
import { sayDay, sayDays } from '@/lib/platform/say-dates';
import { countOf, say } from '@/lib/platform/words/say';
import type { ReportDesk as Desk, ReportDue, ReportRow } from '@/lib/reports/wire';
import { reportDeskOptions, useOpenReport } from './queries';
import { ReportCaution } from './report-caution';
import classes from './report-sections.module.css';
import { STANDING_TONES, STANDING_WORDS, STATE_TONES, STATE_WORDS } from './words';

/** What is due for each permit and year, and every report there is. */
export function ReportDesk() {
  const desk = useQuery(reportDeskOptions());
  if (desk.error)
    return (
      <ErrorState
        what={say('The reports could not be loaded.')}
        error={desk.error}
        onRetry={() => void desk.refetch()}
      />
    );
  if (desk.data === undefined) return <Loading what={say('Loading the reports')} lines={8} />;
  const { due, rows } = desk.data;
  const ended = due.filter(({ standing }) => standing !== 'under-way');
  return (
    <>
      <DeskHead
        title={say('Reports')}
        lede={sayNext(ended)}
        figures={[
          { id: 'due', label: say('Not yet begun'), value: ended.length },
          {
            id: 'open',
            label: say('Open or ready'),
            value: rows.filter(({ state }) => state === 'open' || state === 'ready').length,
          },
          {
            id: 'signed',
            label: say('Signed'),
            value: rows.filter(({ state }) => state === 'signed').length,
          },
        ]}
      />
      <DueList desk={desk.data} />
      <h2 className={classes.below}>{say('Reports so far')}</h2>
      <DataList<ReportRow>
        label={say('Reports so far')}
        columns={[
          { id: 'permit', head: say('Permit'), cell: (row) => row.permit.number },
          { id: 'period', head: say('Period'), cell: (row) => sayDays(row.fromOn, row.untilOn) },
          { id: 'edition', head: say('Edition'), numeric: true, cell: (row) => row.edition },
          {
            id: 'state',
            head: say('State'),
            cell: (row) => <StateBadge tone={STATE_TONES[row.state]}>{STATE_WORDS[row.state]}</StateBadge>,
          },
          {
            id: 'due',
            head: say('Due'),
            cell: (row) => (row.dueOn === null ? say('no day set') : sayDay(row.dueOn)),
          },
          {
            id: 'signed',
            head: say('Signed'),
            cell: (row) =>
              row.signedAt === null ? (
                'not yet'
              ) : (
                <>
                  <Moment at={row.signedAt} />, {row.signedBy}
                </>
              ),
          },
        ]}
        rows={rows}
        rowId={(row) => row.id}
        rowHref={(row) => paths.report(row.id)}
        empty={
          <EmptyState title={say('No report yet')}>
            <p>
              {say('Open one from the list above: it is computed from the birds that the permit counts.')}
            </p>
          </EmptyState>
        }
      />
      <ReportCaution />
    </>
  );
}

function sayNext(ended: readonly ReportDue[]): string {
  const [next] = ended;
  if (next === undefined) return say('Every year that has ended has its report.');
  const years = countOf(ended.length, 'ended year');
  if (next.dueOn === null) return say('{years} without a report.', { years });
  const day = sayDay(next.dueOn);
  return next.standing === 'overdue'
    ? say('{years} without a report; the first was due on {day}.', { years, day })
    : say('{years} without a report; the first is due on {day}.', { years, day });
}

function DueList({ desk }: { desk: Desk }) {
  const router = useRouter();
  const open = useOpenReport();
  const openIt = (due: ReportDue) =>
    open.mutate(
      { permitId: due.permit.id, onDay: due.untilOn },
      { onSuccess: (record) => router.push(paths.report(record.id)) },
    );
  return (
    <>
      <h2>{say('What is due')}</h2>
      {open.error === null ? null : <p role="alert">{problemOf(open.error).title}</p>}
      <DataList<ReportDue>
        label={say('What is due')}
        columns={[
          { id: 'permit', head: say('Permit'), cell: (row) => row.permit.number },
          { id: 'authority', head: say('Issued by'), deskOnly: true, cell: (row) => row.permit.authority },
          { id: 'period', head: say('Period'), cell: (row) => sayDays(row.fromOn, row.untilOn) },
          {
            id: 'due',
            head: say('Due'),
            cell: (row) => (row.dueOn === null ? say('no day set') : sayDay(row.dueOn)),
          },
          {
            id: 'standing',
            head: say('Standing'),
            cell: (row) => (
              <StateBadge tone={STANDING_TONES[row.standing]}>{STANDING_WORDS[row.standing]}</StateBadge>
            ),
          },
          ...(desk.abilities.open
            ? [
                {
                  id: 'act',
                  head: say('Next'),
                  cell: (row: ReportDue) => (
                    <Button
                      variant={row.standing === 'under-way' ? 'default' : 'filled'}
                      loading={open.isPending && open.variables.permitId === row.permit.id}
                      onClick={() => openIt(row)}
                    >
                      {say('Open the report')}
                    </Button>
                  ),
                },
              ]
            : []),
        ]}
        rows={desk.due}
        rowId={(row) => `${row.permit.id} ${row.fromOn}`}
        empty={
          <EmptyState title={say('Nothing is due')}>
            <p>{say('Each year of each permit has its report. A new year appears here when it begins.')}</p>
          </EmptyState>
        }
      />
    </>
  );
}
