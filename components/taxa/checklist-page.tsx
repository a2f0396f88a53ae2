'use client';

import { Button, NativeSelect, Stack, TextInput } from '@mantine/core';
import { useQuery } from '@tanstack/react-query';
import { type FormEvent, useState } from 'react';
import { RecordHistory } from '@/components/audit/record-history';
import { DataList } from '@/components/ui/data-list';
import { EmptyState } from '@/components/ui/empty-state';
import { ErrorState } from '@/components/ui/error-state';
import { ErrorSummary } from '@/components/ui/error-summary';
import { Fact, Facts, Section } from '@/components/ui/facts';
import { fieldId } from '@/components/ui/field-id';
import { Loading } from '@/components/ui/loading';
import { RecordHead } from '@/components/ui/page-head';
import { problemOf } from '@/components/ui/problem';
import { StateBadge } from '@/components/ui/state-badge';
import { TaxonName } from '@/components/ui/taxon-name';
import { paths } from '@/lib/platform/paths';
import { countOf, say, sayWord } from '@/lib/platform/words/say';
import { sayNumber } from '@/lib/platform/words/say-number';
import type { CarriedName, ChecklistRecord } from '@/lib/taxa/schema';
import { EditionState } from './checklists';
import { checklistOptions, useMakeCurrent } from './queries';

/** One edition: what it holds, what was left out, and what it would change for our birds. */
export function ChecklistPage({ id }: { id: string }) {
  const record = useQuery(checklistOptions(id));
  if (record.error)
    return (
      <ErrorState
        what={say('This checklist could not be loaded.')}
        error={record.error}
        onRetry={() => void record.refetch()}
      />
    );
  if (record.data === undefined) return <Loading what={say('Loading the checklist')} lines={6} />;
  const checklist = record.data;
  return (
    <>
      <RecordHead
        number={checklist.edition}
        state={<EditionState row={checklist} />}
        title={checklist.name}
        intro={checklist.credit}
        back={{ label: say('Checklists'), href: paths.checklists }}
      />
      <Section id="content" title={say('What it holds')}>
        <Facts>
          {Object.entries(checklist.taxa).map(([rank, count]) => (
            <Fact key={rank} term={sayWord(rank)}>
              {sayNumber(count)}
            </Fact>
          ))}
          <Fact term={say('Rows left out')} wide>
            {checklist.problems.length === 0
              ? say('none')
              : checklist.problems.map((one) => (
                  <div key={one.line}>
                    {say('Line {line}: {reason}', { line: one.line, reason: one.reason })}
                  </div>
                ))}
          </Fact>
        </Facts>
      </Section>
      {checklist.abilities.makeCurrent ? (
        <Section
          id="changes"
          title={say('What it changes for our birds')}
          note={
            checklist.sameNames === 1
              ? say('1 name of our birds stays as it is.')
              : say('{of} of our birds stay as they are.', { of: countOf(checklist.sameNames, 'name') })
          }
        >
          <Changes checklist={checklist} />
        </Section>
      ) : null}
      <Section id="history" title={say('History')}>
        <RecordHistory subject={{ subjectType: 'checklist', subjectId: id }} />
      </Section>
    </>
  );
}

const KEEP = 'keep';

function Changes({ checklist }: { checklist: ChecklistRecord }) {
  const make = useMakeCurrent(checklist.id);
  const [chosen, setChosen] = useState<Readonly<Record<string, string>>>({});
  const [reason, setReason] = useState('');
  const asked = checklist.carried.filter((one) => one.asksPerson);
  const submit = (event: FormEvent) => {
    event.preventDefault();
    make.mutate({
      reason,
      decisions: asked.flatMap(({ taxonId }) => {
        const choice = chosen[taxonId];
        return choice === undefined || choice === ''
          ? []
          : [{ taxonId, newTaxonId: choice === KEEP ? null : choice }];
      }),
    });
  };
  const problem = problemOf(make.error);
  return (
    <form onSubmit={submit}>
      <ErrorSummary problems={problem.fields ?? []} title={problem.title} />
      {make.error !== null && (problem.fields ?? []).length === 0 ? (
        <p role="alert">{problem.title}</p>
      ) : null}
      <DataList<CarriedName>
        label={say('Names that change')}
        columns={[
          {
            id: 'name',
            head: say('Name now'),
            cell: (row) => <TaxonName scientific={row.name} common={row.commonName} />,
          },
          {
            id: 'kind',
            head: say('What happens'),
            cell: (row) => (
              <StateBadge tone={row.asksPerson ? 'attention' : 'settled'}>{sayWord(row.kind)}</StateBadge>
            ),
          },
          { id: 'reason', head: say('Why'), cell: (row) => row.reason },
          { id: 'birds', head: say('Birds'), numeric: true, cell: (row) => row.birds },
          {
            id: 'becomes',
            head: say('Becomes'),
            cell: (row) =>
              row.asksPerson ? (
                <NativeSelect
                  id={fieldId(`decisions.${row.taxonId}`)}
                  aria-label={say('{name} becomes', { name: row.name })}
                  value={chosen[row.taxonId] ?? ''}
                  onChange={(event) => setChosen({ ...chosen, [row.taxonId]: event.currentTarget.value })}
                  data={[
                    { value: '', label: say('Choose') },
                    ...row.candidates.map((one) => ({
                      value: one.id,
                      label: one.commonName === null ? one.name : `${one.name} (${one.commonName})`,
                    })),
                    { value: KEEP, label: say('Keep the old name for now') },
                  ]}
                />
              ) : (
                <TaxonName scientific={row.candidates[0]?.name ?? ''} />
              ),
          },
        ]}
        rows={checklist.carried}
        rowId={(row) => row.taxonId}
        empty={<EmptyState title={say('No name of our birds changes')} />}
      />
      <Stack gap="md" maw={520} mt="md">
        <TextInput
          label={say('Why does the checklist change?')}
          required
          value={reason}
          onChange={(event) => setReason(event.currentTarget.value)}
        />
        <div>
          <Button type="submit" loading={make.isPending}>
            {say('Make it the current checklist')}
          </Button>
        </div>
      </Stack>
    </form>
  );
}
