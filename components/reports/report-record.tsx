'use client';

import { Button } from '@mantine/core';
import { useQuery } from '@tanstack/react-query';
import { RecordHistory } from '@/components/audit/record-history';
import { ErrorState } from '@/components/ui/error-state';
import { Section } from '@/components/ui/facts';
import { whenSeen } from '@/components/ui/later';
import { Loading } from '@/components/ui/loading';
import { RecordHead } from '@/components/ui/page-head';
import { StateBadge } from '@/components/ui/state-badge';
import { paths } from '@/lib/platform/paths';
import { sayDay, sayDays } from '@/lib/platform/say-dates';
import { countOf, phrases, say } from '@/lib/platform/words/say';
import type { LineQuery } from '@/lib/reports/wire';
import { reportOptions } from './queries';
import { ReportBalance } from './report-balance';
import { ReportCaution } from './report-caution';
import { ReportCheck, ReportEditions } from './report-editions';
import { ReportLines } from './report-lines';
import { ReportTotals } from './report-totals';
import { ReportWarnings } from './report-warnings';
import { WideSection } from './wide-section';
import { STATE_TONES, STATE_WORDS } from './words';

const ReportSignature = whenSeen(
  () => import('./report-signature').then((module) => module.ReportSignature),
  4,
);

const SECTIONS = phrases([
  { id: 'balance', label: 'Balance' },
  { id: 'warnings', label: 'Warnings' },
  { id: 'totals', label: 'Totals' },
  { id: 'birds', label: 'Birds' },
  { id: 'signature', label: 'Signature' },
  { id: 'editions', label: 'Editions' },
  { id: 'history', label: 'History' },
] as const);

const FILES = phrases([
  { ending: 'pdf', label: 'PDF' },
  { ending: 'xlsx', label: 'Workbook' },
  { ending: 'csv', label: 'CSV' },
] as const);

/** One permit's report of one year: the balance, what must be explained, the totals, the birds, the signature. */
export function ReportRecord({ id, query }: { id: string; query: LineQuery }) {
  const record = useQuery(reportOptions(id));
  if (record.error)
    return (
      <ErrorState
        what={say('This report could not be loaded.')}
        error={record.error}
        onRetry={() => void record.refetch()}
      />
    );
  if (record.data === undefined) return <Loading what={say('Loading the report')} lines={8} />;
  const report = record.data;
  const isSigned = report.state === 'signed' || report.state === 'amended';
  return (
    <>
      <RecordHead
        number={report.permit.number}
        title={say('Salvage report, {days}', { days: sayDays(report.fromOn, report.untilOn) })}
        state={<StateBadge tone={STATE_TONES[report.state]}>{STATE_WORDS[report.state]}</StateBadge>}
        intro={say('{authority}. Edition {edition}, {of}. {x}', {
          authority: report.permit.authority,
          edition: report.edition,
          of: countOf(report.lineCount, 'bird'),
          x:
            report.dueOn === null
              ? say('The permit sets no day for it.')
              : say('Due on {day}.', { day: sayDay(report.dueOn) }),
        })}
        back={{ label: say('Reports'), href: paths.reports }}
        sections={SECTIONS}
        acts={FILES.map(({ ending, label }) => (
          <Button key={ending} component="a" variant="default" href={`/api/reports/${id}/${ending}`}>
            {label}
          </Button>
        ))}
      />
      <Section id="balance" title={say('Balance')} note={say('Each number opens the birds it counts.')}>
        <ReportBalance record={report} />
      </Section>
      <Section
        id="warnings"
        title={say('Warnings')}
        note={say('Resolve them in the records, or explain them in writing.')}
      >
        <ReportWarnings record={report} />
      </Section>
      <WideSection id="totals" title={say('Totals')}>
        <ReportTotals record={report} />
      </WideSection>
      <WideSection id="birds" title={say('Birds')} note={say('Each bird on one line.')}>
        <ReportLines record={report} query={query} />
      </WideSection>
      <Section id="signature" title={say('Signature')}>
        <ReportSignature record={report} />
      </Section>
      {isSigned ? (
        <Section
          id="check"
          title={say('Against the database')}
          note={say('What was signed, and what the records say today.')}
        >
          <ReportCheck id={id} />
        </Section>
      ) : null}
      <Section id="editions" title={say('Editions')}>
        <ReportEditions record={report} />
      </Section>
      <Section id="history" title={say('History')}>
        <RecordHistory subject={{ subjectType: 'report', subjectId: id }} />
      </Section>
      <ReportCaution />
    </>
  );
}
