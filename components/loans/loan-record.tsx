'use client';

import { Button } from '@mantine/core';
import { useQuery } from '@tanstack/react-query';
import { useState } from 'react';
import { FilesSection } from '@/components/attachments/files-section';
import { RecordHistory } from '@/components/audit/record-history';
import { CommentsSection } from '@/components/notices/comments-section';
import { DataList } from '@/components/ui/data-list';
import { ErrorState } from '@/components/ui/error-state';
import { Fact, Facts, Section } from '@/components/ui/facts';
import { whenOpened } from '@/components/ui/later';
import { Loading } from '@/components/ui/loading';
import { RecordHead } from '@/components/ui/page-head';
import { StateBadge } from '@/components/ui/state-badge';
import { TaxonName } from '@/components/ui/taxon-name';
import type { LoanAct } from '@/lib/loans/rules';
import type { LoanRecord as Loan, LoanLineRecord } from '@/lib/loans/wire';
import { paths } from '@/lib/platform/paths';
import { sayDay } from '@/lib/platform/say-dates';
import { countOf, phrases, say, sayWord } from '@/lib/platform/words/say';
import { BorderSection } from './border-section';
import { ChooseMaterials } from './choose-materials';
import { loanOptions } from './queries';
import { Balance, LoanState } from './words';

const ActForm = whenOpened(() => import('./act-form').then((module) => module.ActForm), 6);

const LABELS: Record<LoanAct, string> = phrases({
  'take-into-review': 'Take into review',
  grant: 'Grant',
  decline: 'Decline',
  withdraw: 'Withdraw',
  pack: 'Pack',
  unpack: 'Unpack',
  send: 'Send',
  'confirm-receipt': 'Confirm receipt',
  'take-back': 'Take back',
  extend: 'Extend',
  close: 'Close',
});
/** Acts that are the usual next step, and so the button that stands out. */
const NEXT: readonly LoanAct[] = ['take-into-review', 'grant', 'pack', 'send', 'take-back', 'close'];
const BEFORE_SENT = ['asked', 'in-review', 'granted', 'packed'];
const SECTIONS = phrases([
  { id: 'terms', label: 'Who and why' },
  { id: 'lines', label: 'Materials' },
  { id: 'papers', label: 'Papers' },
  { id: 'files', label: 'Photos and documents' },
  { id: 'comments', label: 'Comments' },
  { id: 'history', label: 'History' },
]);

/** One loan: what is out, what may be done next, its papers and its story. */
export function LoanRecord({ id }: { id: string }) {
  const query = useQuery(loanOptions(id));
  const [act, setAct] = useState<LoanAct | null>(null);
  if (query.error)
    return (
      <ErrorState
        what={say('This loan could not be loaded.')}
        error={query.error}
        onRetry={() => void query.refetch()}
      />
    );
  if (query.data === undefined) return <Loading what={say('Loading the loan')} lines={8} />;
  const loan = query.data;
  return (
    <>
      <RecordHead
        back={{ label: say('Loans'), href: paths.loans }}
        number={loan.number}
        title={say('{x} to {institution}', {
          x: loan.kind === 'grant' ? say('Tissue grant') : say('Loan'),
          institution: loan.borrower.institution,
        })}
        state={<LoanState state={loan.state} overdueDays={loan.overdueDays} />}
        intro={<Balance balance={loan.balance} />}
        sections={SECTIONS}
        acts={
          <>
            {loan.acts.map((one) => (
              <Button
                key={one}
                variant={NEXT.includes(one) ? 'filled' : 'default'}
                onClick={() => setAct(one)}
                aria-expanded={act === one}
              >
                {LABELS[one]}
              </Button>
            ))}
            <Button component="a" variant="default" href={`/api/loans/${id}/papers`} target="_blank">
              {say('Papers (PDF)')}
            </Button>
          </>
        }
      />
      {loan.refusals.map(({ act: refused, reason }) => (
        <p key={refused}>
          <StateBadge tone="attention">
            {say('{labels}: not yet. {reason}', { labels: LABELS[refused], reason })}
          </StateBadge>
        </p>
      ))}
      {act !== null && loan.acts.includes(act) ? (
        <ActForm key={act} act={act} loan={loan} today={loan.today} onDone={() => setAct(null)} />
      ) : null}
      <Terms loan={loan} />
      <Section id="lines" title={say('Materials')} note={countOf(loan.lines.length, 'material')}>
        {loan.abilities.choose ? <ChooseMaterials key={loan.version} loan={loan} /> : null}
        <DataList
          label={say('Materials of this loan')}
          columns={LINES}
          rows={loan.lines}
          rowId={(row) => row.id}
          rowHref={(row) => paths.bird(row.birdId)}
        />
      </Section>
      <BorderSection loan={loan} mayChange={loan.abilities.execute && BEFORE_SENT.includes(loan.state)} />
      <FilesSection
        subjectType="loan"
        subjectId={id}
        targets={[
          { subjectType: 'loan', subjectId: id, label: say('Loan {number}', { number: loan.number }) },
          ...loan.lines.map((line) => ({
            subjectType: 'loan-line' as const,
            subjectId: line.id,
            label: line.label,
          })),
        ]}
      />
      <CommentsSection subject={{ subjectType: 'loan', subjectId: id }} />
      {loan.abilities.history ? (
        <Section id="history" title={say('History')}>
          <RecordHistory subject={{ subjectType: 'loan', subjectId: id }} />
        </Section>
      ) : null}
    </>
  );
}

function Outcome({ line }: { line: LoanLineRecord }) {
  if (line.outcome !== null)
    return (
      <StateBadge tone={line.outcome === 'lost' ? 'stop' : 'settled'}>
        {sayWord(line.outcome)}
        {line.outcomeOn === null ? '' : say(' on {day}', { day: sayDay(line.outcomeOn) })}
      </StateBadge>
    );
  if (line.sentOn !== null)
    return <StateBadge tone="attention">{say('Out since {day}', { day: sayDay(line.sentOn) })}</StateBadge>;
  return line.problems.length > 0 ? (
    <StateBadge tone="stop">{line.problems.join(' ')}</StateBadge>
  ) : (
    <StateBadge>{say('On the shelf')}</StateBadge>
  );
}

const LINES = phrases([
  {
    id: 'label',
    head: 'Material',
    cell: (row: LoanLineRecord) => (
      <>
        {row.label}
        <br />
        <TaxonName scientific={row.scientificName} common={row.commonName} />
      </>
    ),
  },
  {
    id: 'kind',
    head: 'Kind',
    cell: (row: LoanLineRecord) =>
      row.vial === null
        ? sayWord(row.kind)
        : say('{word}, {amountLeft} {unit} left', {
            word: sayWord(row.kind),
            amountLeft: row.vial.amountLeft,
            unit: row.vial.unit,
          }),
  },
  { id: 'outcome', head: 'Where it is', cell: (row: LoanLineRecord) => <Outcome line={row} /> },
  { id: 'out', head: 'Condition out', cell: (row: LoanLineRecord) => row.conditionOut ?? '' },
  { id: 'in', head: 'Condition in', cell: (row: LoanLineRecord) => row.conditionIn ?? row.outcomeNote ?? '' },
  {
    id: 'place',
    head: 'Shelf',
    deskOnly: true,
    cell: (row: LoanLineRecord) => row.place ?? say('no place noted'),
  },
]);

function Terms({ loan }: { loan: Loan }) {
  const { borrower } = loan;
  return (
    <Section id="terms" title={say('Who and why')}>
      <Facts>
        <Fact term={say('Borrower')} note={borrower.email}>
          {borrower.contact}, {borrower.institution} ({borrower.country})
        </Fact>
        {loan.origin === null ? (
          <Fact term={say('Asked for')} note={loan.askedBy}>
            {sayDay(loan.askedOn)}
          </Fact>
        ) : (
          <>
            <Fact
              term={say('Asked for')}
              note={say('Link made by {askedBy}', { askedBy: loan.askedBy ?? say('nobody known') })}
            >
              {say('{day}, from outside, through the link “{link}”', {
                day: sayDay(loan.askedOn),
                link: loan.origin.link,
              })}
            </Fact>
            <Fact term={say('Wanted, as written')} wide>
              {loan.origin.wanted.join('; ')}
            </Fact>
          </>
        )}
        {loan.decidedBy === null ? null : (
          <Fact term={say('Decided by')} note={loan.decisionNote}>
            {loan.decidedBy}
          </Fact>
        )}
        {loan.sentOn === null ? null : <Fact term={say('Sent on')}>{sayDay(loan.sentOn)}</Fact>}
        {loan.receivedOn === null ? null : <Fact term={say('Arrived on')}>{sayDay(loan.receivedOn)}</Fact>}
        <Fact
          term={say('Due back on')}
          note={
            loan.extensions.length === 0
              ? undefined
              : loan.extensions
                  .map(({ fromDueOn, reason }) =>
                    say('before: {day} ({reason})', { day: sayDay(fromDueOn), reason }),
                  )
                  .join('; ')
          }
        >
          {loan.dueOn === null ? say('not set yet') : sayDay(loan.dueOn)}
        </Fact>
        <Fact term={say('What it is for')} wide>
          {loan.purpose}
        </Fact>
        {loan.conditions === null ? null : (
          <Fact term={say('Terms')} wide>
            {loan.conditions}
          </Fact>
        )}
      </Facts>
    </Section>
  );
}
