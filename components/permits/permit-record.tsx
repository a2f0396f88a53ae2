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
import { Link } from '@/components/ui/link';
import { Loading } from '@/components/ui/loading';
import { RecordHead } from '@/components/ui/page-head';
import { Reasons } from '@/components/ui/reasons';
import { StateBadge } from '@/components/ui/state-badge';
import type { PermitRecord as Permit } from '@/lib/permits/wire';
import { paths } from '@/lib/platform/paths';
import { sayDay, sayDays } from '@/lib/platform/say-dates';
import { countOf, phrases, say } from '@/lib/platform/words/say';
import { ClauseList } from './clause-list';
import { LegalCaution } from './legal-caution';
import { PermitAmendments } from './permit-amendments';
import { sayTerm } from './permit-list';
import { permitOptions } from './queries';
import { KIND_WORDS, STANDING_TONES, STANDING_WORDS, warningTone } from './words';

const AmendForm = whenOpened(() => import('./amend-form').then((module) => module.AmendForm), 8);
const CorrectForm = whenOpened(() => import('./correct-form').then((module) => module.CorrectForm), 8);
const RenewForm = whenOpened(() => import('./renew-form').then((module) => module.RenewForm), 8);

const SECTIONS = phrases([
  { id: 'facts', label: 'Permit' },
  { id: 'clauses', label: 'Clauses' },
  { id: 'people', label: 'Who may act' },
  { id: 'amendments', label: 'Amendments' },
  { id: 'files', label: 'Photos and documents' },
  { id: 'history', label: 'History' },
]);

type Work = 'amend' | 'correct' | 'renew';

/** One permit: its terms as sentences, what is due, what it counts, and how its text changed. */
export function PermitRecord({ id, seesComments }: { id: string; seesComments: boolean }) {
  const record = useQuery(permitOptions(id));
  const [work, setWork] = useState<Work | null>(null);
  if (record.error) {
    return (
      <ErrorState
        what={say('This permit could not be loaded.')}
        error={record.error}
        onRetry={() => void record.refetch()}
      />
    );
  }
  if (record.data === undefined) return <Loading what={say('Loading the permit')} lines={8} />;
  const permit = record.data;
  const done = () => setWork(null);
  return (
    <>
      <RecordHead
        number={permit.number}
        title={permit.authority}
        state={
          <StateBadge tone={STANDING_TONES[permit.standing]}>{STANDING_WORDS[permit.standing]}</StateBadge>
        }
        intro={say('{kind_words} permit of {holder}, {term}', {
          kind_words: KIND_WORDS[permit.kind],
          holder: permit.holder,
          term: sayTerm(permit),
        })}
        back={{ label: say('Permits'), href: paths.permits }}
        sections={SECTIONS}
        acts={permit.abilities.manage && work === null ? <Acts onChoose={setWork} /> : null}
      />
      {permit.warnings.length > 0 ? <Warnings permit={permit} /> : null}
      {work === 'amend' ? <AmendForm permit={permit} onDone={done} /> : null}
      {work === 'correct' ? <CorrectForm permit={permit} onDone={done} /> : null}
      {work === 'renew' ? <RenewForm permit={permit} onDone={done} /> : null}
      <PermitFacts permit={permit} />
      <Section
        id="clauses"
        title={say('Clauses')}
        note={say('As they stand now. Each has the number that reasons point to.')}
      >
        <ClauseList clauses={permit.clauses} />
        {permit.quotas.length > 0 ? <Quotas permit={permit} /> : null}
      </Section>
      <People permit={permit} />
      <Section
        id="amendments"
        title={say('Amendments')}
        note={say('The earlier text still judges earlier finds.')}
      >
        <PermitAmendments permit={permit} />
      </Section>
      <FilesSection subjectType="permit" subjectId={id} />
      {seesComments ? <CommentsSection subject={{ subjectType: 'permit', subjectId: id }} /> : null}
      <Section id="history" title={say('History')}>
        <RecordHistory subject={{ subjectType: 'permit', subjectId: id }} />
      </Section>
      <LegalCaution />
    </>
  );
}

function Acts({ onChoose }: { onChoose: (work: Work) => void }) {
  return (
    <>
      <Button onClick={() => onChoose('amend')}>{say('Amend the terms')}</Button>
      <Button variant="default" onClick={() => onChoose('renew')}>
        {say('Enter its renewal')}
      </Button>
      <Button variant="default" onClick={() => onChoose('correct')}>
        {say('Correct a mistake')}
      </Button>
    </>
  );
}

function Warnings({ permit }: { permit: Permit }) {
  const stop = permit.warnings.some(({ code }) => warningTone(code) === 'stop');
  return (
    <Reasons
      tone={stop ? 'stop' : 'attention'}
      verdict={say('{of} due', { of: countOf(permit.warnings.length, 'thing') })}
      reasons={permit.warnings.map((warning) => ({
        id: `${warning.code} ${warning.message}`,
        tone: warningTone(warning.code),
        text: warning.message,
        clause:
          warning.clauseId === null ? undefined : say('Clause {clauseId}', { clauseId: warning.clauseId }),
        clauseHref: warning.clauseId === null ? undefined : `#clause-${warning.clauseId}`,
      }))}
      closing={null}
    />
  );
}

function PermitFacts({ permit }: { permit: Permit }) {
  return (
    <Section id="facts" title={say('Permit')}>
      <Facts>
        <Fact term={say('Authority')}>{permit.authority}</Fact>
        <Fact term={say('Jurisdiction')}>{permit.jurisdiction}</Fact>
        <Fact term={say('In force from')}>{sayDay(permit.effectiveOn)}</Fact>
        <Fact term={say('Until')}>
          {permit.expiresOn === null ? say('no end named') : sayDay(permit.expiresOn)}
        </Fact>
        <Fact term={say('Renews')}>
          {permit.replaces === null ? (
            say('no other permit')
          ) : (
            <Link href={paths.permit(permit.replaces.id)}>{permit.replaces.number}</Link>
          )}
        </Fact>
        <Fact term={say('Renewed by')}>
          {permit.replacedBy.length === 0
            ? say('none yet')
            : permit.replacedBy.map(({ id, number }) => (
                <Link key={id} href={paths.permit(id)}>
                  {number}
                </Link>
              ))}
        </Fact>
        <Fact term={say('Birds counted under it')}>
          <Link href={`${paths.salvage}?permitId=${permit.id}`}>{countOf(permit.birds, 'bird')}</Link>
        </Fact>
        {permit.notes === null ? null : (
          <Fact term={say('Notes')} wide>
            {permit.notes}
          </Fact>
        )}
        {permit.remarks.map(({ message, cite }) => (
          <Fact key={message} term={say('To look at')} wide note={cite}>
            {message}
          </Fact>
        ))}
      </Facts>
    </Section>
  );
}

function Quotas({ permit }: { permit: Permit }) {
  return (
    <DataList
      label={say('Use of quotas')}
      columns={[
        { id: 'clause', head: say('Clause'), cell: (row) => row.clauseId },
        { id: 'year', head: say('Year'), cell: (row) => sayDays(row.fromOn, row.untilOn) },
        { id: 'used', head: say('Used'), numeric: true, cell: (row) => row.used },
        { id: 'maximum', head: say('At most'), numeric: true, cell: (row) => row.maximum },
        { id: 'left', head: say('Left'), numeric: true, cell: (row) => Math.max(0, row.maximum - row.used) },
      ]}
      rows={permit.quotas}
      rowId={(row) => row.clauseId}
    />
  );
}

function People({ permit }: { permit: Permit }) {
  return (
    <Section id="people" title={say('Who may act')} note={say('Each name is tested on the day of finding.')}>
      <Facts>
        <Fact term={say('Holder')}>{permit.holder}</Fact>
      </Facts>
      <DataList
        label={say('Sub-permittees')}
        columns={[
          { id: 'name', head: say('Sub-permittee'), cell: (row) => row.name },
          { id: 'from', head: say('From'), cell: (row) => sayDay(row.fromOn) },
          {
            id: 'until',
            head: say('Until'),
            cell: (row) => (row.untilOn === null ? say('the permit ends') : sayDay(row.untilOn)),
          },
        ]}
        rows={permit.subPermittees}
        rowId={(row) => `${row.name} ${row.fromOn}`}
        empty={<p>{say('No sub-permittee is named.')}</p>}
      />
    </Section>
  );
}
