'use client';

import { Anchor, Button, Group, Progress } from '@mantine/core';
import { useQuery } from '@tanstack/react-query';
import { RecordHistory } from '@/components/audit/record-history';
import { ConfirmInline } from '@/components/ui/confirm-inline';
import { DataList } from '@/components/ui/data-list';
import { ErrorState } from '@/components/ui/error-state';
import { Fact, Facts, Section } from '@/components/ui/facts';
import { Loading } from '@/components/ui/loading';
import { RecordHead } from '@/components/ui/page-head';
import { problemOf } from '@/components/ui/problem';
import type { ImportRecord } from '@/lib/exchange/schema';
import { paths } from '@/lib/platform/paths';
import { countOf, say } from '@/lib/platform/words/say';
import { ImportStateBadge } from './import-list';
import { MappingForm } from './mapping-form';
import { importOptions, useImportAct } from './queries';

/** One import: its columns, what the check found, its progress, and the way back. */
export function ImportPage({ id }: { id: string }) {
  const record = useQuery(importOptions(id));
  if (record.error)
    return (
      <ErrorState
        what={say('This import could not be loaded.')}
        error={record.error}
        onRetry={() => void record.refetch()}
      />
    );
  if (record.data === undefined) return <Loading what={say('Loading the import')} lines={6} />;
  const run = record.data;
  return (
    <>
      <RecordHead
        number={countOf(run.rowsTotal, 'row')}
        state={<ImportStateBadge state={run.state} />}
        title={run.fileName}
        intro={[say('Begun by {startedBy}.', { startedBy: run.startedBy }), ...run.notes].join(' ')}
        back={{ label: say('Imports and exports'), href: paths.exchange }}
      />
      {run.failure === null ? null : (
        <p role="alert">{say('It ended: {failure}', { failure: run.failure })}</p>
      )}
      <Acts run={run} />
      {run.abilities.check ? (
        <Section
          id="columns"
          title={say('What the columns mean')}
          note={say('Suggested from their names; a column you leave out is passed over.')}
        >
          <MappingForm key={run.id} run={run} />
        </Section>
      ) : null}
      {run.check === null ? null : <Check run={run} check={run.check} />}
      {run.undone === null ? null : (
        <Section id="undone" title={say('Taken back')}>
          <p>{say('{of} taken back.', { of: countOf(run.undone.takenBack, 'record') })}</p>
          {run.undone.kept.length === 0 ? null : (
            <>
              <p>{say('These were left alone:')}</p>
              <ul>
                {run.undone.kept.map((line) => (
                  <li key={line}>{line}</li>
                ))}
              </ul>
            </>
          )}
        </Section>
      )}
      <Section id="history" title={say('History')}>
        <RecordHistory subject={{ subjectType: 'import', subjectId: id }} />
      </Section>
    </>
  );
}

function Acts({ run }: { run: ImportRecord }) {
  const act = useImportAct(run.id);
  const { abilities } = run;
  const working = ['checking', 'running', 'cancelling', 'undoing'].includes(run.state);
  const share = run.rowsTotal === 0 ? null : (run.rowsDone / run.rowsTotal) * 100;
  return (
    <>
      {act.error === null ? null : <p role="alert">{problemOf(act.error).title}</p>}
      {working ? (
        <div role="status">
          <p>
            {say('{of} done{x}. You may leave this page; the work goes on.', {
              of: countOf(run.rowsDone, 'row'),
              x: run.rowsFailed > 0 ? say(', {rowsFailed} not taken', { rowsFailed: run.rowsFailed }) : '',
            })}
          </p>
          <Progress
            value={share ?? 100}
            animated={share === null}
            aria-label={say('Progress of the import')}
          />
        </div>
      ) : null}
      <Group my="md">
        {abilities.run ? (
          <Button loading={act.isPending} onClick={() => act.mutate({ act: 'run', body: {} })}>
            {say('Import {of}', { of: countOf(run.check?.ready ?? 0, 'row') })}
          </Button>
        ) : null}
        {abilities.cancel ? (
          <Button variant="default" onClick={() => act.mutate({ act: 'cancel', body: {} })}>
            {say('Stop the import')}
          </Button>
        ) : null}
        {abilities.errors && !working ? (
          <Anchor href={`/api/exchange/imports/${run.id}/errors`} download>
            {say('Rows to correct, as a file')}
          </Anchor>
        ) : null}
        {abilities.undo ? (
          <ConfirmInline
            act={say('Take the import back')}
            question={say(
              'Every record it made is declined, but for those somebody worked on since. Their numbers stay used.',
            )}
            confirm={say('Take it back')}
            reason={{ label: say('Why?') }}
            onConfirm={(reason) => act.mutateAsync({ act: 'undo', body: { reason } })}
          />
        ) : null}
      </Group>
    </>
  );
}

function Check({ run, check }: { run: ImportRecord; check: NonNullable<ImportRecord['check']> }) {
  return (
    <Section id="check" title={say('What the check found')} note={say('Nothing was made by it.')}>
      <Facts>
        <Fact term={say('Rows')}>{check.rows}</Fact>
        <Fact term={say('Ready')}>{check.ready}</Fact>
        <Fact term={say('To correct')}>{check.withErrors}</Fact>
        <Fact term={say('With a warning')}>{check.withWarnings}</Fact>
      </Facts>
      {check.reasons.length === 0 ? null : (
        <DataList
          label={say('What is wrong')}
          columns={[
            { id: 'reason', head: say('Reason'), cell: (row) => row.reason },
            { id: 'count', head: say('Rows'), numeric: true, cell: (row) => row.count },
          ]}
          rows={check.reasons}
          rowId={(row) => `${row.fieldId} ${row.reason}`}
        />
      )}
      {check.examples.length === 0 ? null : (
        <DataList
          label={say('The first rows to correct')}
          columns={[
            { id: 'line', head: say('Line'), numeric: true, cell: (row) => row.line },
            {
              id: 'errors',
              head: say('Why it cannot be taken from {fileName}', { fileName: run.fileName }),
              cell: (row) => row.errors.join(' '),
            },
          ]}
          rows={check.examples}
          rowId={(row) => String(row.line)}
        />
      )}
    </Section>
  );
}
