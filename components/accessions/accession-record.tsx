'use client';

import { Button, Stack, Textarea, TextInput } from '@mantine/core';
import { useQuery } from '@tanstack/react-query';
import { type FormEvent, useState } from 'react';
import { FilesSection } from '@/components/attachments/files-section';
import { RecordHistory } from '@/components/audit/record-history';
import { CommentsSection } from '@/components/notices/comments-section';
import { ConflictMerge } from '@/components/ui/conflict-merge';
import { DataList } from '@/components/ui/data-list';
import { ErrorState } from '@/components/ui/error-state';
import { Fact, Facts, Section } from '@/components/ui/facts';
import { Loading } from '@/components/ui/loading';
import { RecordHead } from '@/components/ui/page-head';
import { problemOf } from '@/components/ui/problem';
import { StateBadge } from '@/components/ui/state-badge';
import { TaxonName } from '@/components/ui/taxon-name';
import { type AccessionRecord as Accession, accessionRecord } from '@/lib/accessions/schema';
import { ApiProblem } from '@/lib/platform/api';
import { paths } from '@/lib/platform/paths';
import { sayDay } from '@/lib/platform/say-dates';
import { countOf, say, sayWord } from '@/lib/platform/words/say';
import { accessionRecordOptions, useChangeAccession } from './queries';

type Papers = Pick<Accession, 'source' | 'agreement' | 'remarks'>;

/** One accession: its papers, its birds, its history; printable as the registrar's sheet. */
export function AccessionRecord({ id }: { id: string }) {
  const record = useQuery(accessionRecordOptions(id));
  const [changing, setChanging] = useState(false);
  if (record.error)
    return (
      <ErrorState
        what={say('This accession could not be loaded.')}
        error={record.error}
        onRetry={() => void record.refetch()}
      />
    );
  if (record.data === undefined) return <Loading what={say('Loading the accession')} lines={6} />;
  const accession = record.data;
  return (
    <>
      <RecordHead
        number={accession.number}
        title={say('{word} from {source}', { word: sayWord(accession.kind), source: accession.source })}
        intro={say('{of}, received {day}', {
          of: countOf(accession.birds, 'bird'),
          day: sayDay(accession.receivedOn),
        })}
        back={{ label: say('Accessions'), href: paths.accessions }}
        acts={
          <>
            <Button variant="default" onClick={() => window.print()}>
              {say('Print')}
            </Button>
            {accession.abilities.change && !changing ? (
              <Button variant="default" onClick={() => setChanging(true)}>
                {say('Correct the papers')}
              </Button>
            ) : null}
          </>
        }
      />
      <Section id="papers" title={say('Papers')}>
        {changing ? (
          <PapersForm accession={accession} onDone={() => setChanging(false)} />
        ) : (
          <Facts>
            <Fact term={say('Acquired by')}>{sayWord(accession.kind)}</Fact>
            <Fact term={say('Source')}>{accession.source}</Fact>
            <Fact term={say('Received on')}>{sayDay(accession.receivedOn)}</Fact>
            <Fact term={say('Agreement or permit papers')} wide>
              {accession.agreement ?? say('none noted')}
            </Fact>
            <Fact term={say('Remarks')} wide>
              {accession.remarks ?? say('none')}
            </Fact>
          </Facts>
        )}
      </Section>
      <Section id="birds" title={say('Birds')}>
        <DataList
          label={say('Birds in this accession')}
          columns={[
            { id: 'number', head: say('Number'), cell: (lot) => lot.number },
            {
              id: 'taxon',
              head: say('Taxon'),
              cell: (lot) => <TaxonName scientific={lot.taxon} common={lot.commonName} />,
            },
            { id: 'found', head: say('Found'), cell: (lot) => sayDay(lot.foundFrom) },
            { id: 'county', head: say('County'), deskOnly: true, cell: (lot) => lot.county },
            { id: 'permit', head: say('Permit'), cell: (lot) => lot.permitNumber ?? say('by ruling') },
            {
              id: 'coverage',
              head: say('Coverage'),
              cell: (lot) => (
                <StateBadge tone={lot.coverage === 'covered' ? 'settled' : 'attention'}>
                  {sayWord(lot.coverage)}
                </StateBadge>
              ),
            },
          ]}
          rows={accession.lots}
          rowId={(lot) => lot.salvageId}
          rowHref={(lot) =>
            lot.birdId === null ? paths.salvageRecord(lot.salvageId) : paths.bird(lot.birdId)
          }
        />
      </Section>
      <FilesSection subjectType="accession" subjectId={id} />
      <CommentsSection subject={{ subjectType: 'accession', subjectId: id }} />
      <Section id="history" title={say('History')}>
        <RecordHistory subject={{ subjectType: 'accession', subjectId: id }} />
      </Section>
    </>
  );
}

function PapersForm({ accession, onDone }: { accession: Accession; onDone: () => void }) {
  const change = useChangeAccession(accession.id);
  const [base, setBase] = useState(accession);
  const [mine, setMine] = useState<Papers>({
    source: accession.source,
    agreement: accession.agreement,
    remarks: accession.remarks,
  });
  const [reason, setReason] = useState('');
  const theirs = staleCurrent(change.error);

  const save = (papers: Papers, version: number) =>
    change.mutate({ ...papers, version, reason }, { onSuccess: onDone });
  const submit = (event: FormEvent) => {
    event.preventDefault();
    save(mine, base.version);
  };

  if (theirs !== null) {
    return (
      <ConflictMerge<Papers>
        fields={[
          { name: 'source', label: say('Source') },
          { name: 'agreement', label: say('Agreement or permit papers') },
          { name: 'remarks', label: say('Remarks') },
        ]}
        mine={mine}
        theirs={theirs}
        base={base}
        who={say('Somebody else')}
        busy={change.isPending}
        onMerge={(merged) => {
          setMine(merged);
          setBase(theirs);
          save(merged, theirs.version);
        }}
        onTakeTheirs={onDone}
      />
    );
  }
  return (
    <form onSubmit={submit}>
      <Stack gap="md" maw={720}>
        {change.error === null ? null : <p role="alert">{problemOf(change.error).title}</p>}
        <TextInput
          label={say('From whom or where')}
          required
          value={mine.source}
          onChange={(event) => setMine({ ...mine, source: event.currentTarget.value })}
        />
        <Textarea
          label={say('Agreement or permit papers')}
          autosize
          value={mine.agreement ?? ''}
          onChange={(event) => setMine({ ...mine, agreement: event.currentTarget.value })}
        />
        <Textarea
          label={say('Remarks')}
          autosize
          value={mine.remarks ?? ''}
          onChange={(event) => setMine({ ...mine, remarks: event.currentTarget.value })}
        />
        <TextInput
          label={say('Why is it corrected?')}
          required
          value={reason}
          onChange={(event) => setReason(event.currentTarget.value)}
        />
        <div>
          <Button type="submit" loading={change.isPending} mr="sm">
            {say('Save the correction')}
          </Button>
          <Button variant="default" onClick={onDone}>
            {say('Leave as it was')}
          </Button>
        </div>
      </Stack>
    </form>
  );
}

/** What stands now, when a save came too late. */
function staleCurrent(error: unknown): Accession | null {
  if (!(error instanceof ApiProblem) || error.problem.code !== 'stale-version') return null;
  const current = accessionRecord.safeParse((error.problem.data as { current?: unknown } | null)?.current);
  return current.success ? current.data : null;
}
