'use client';

import { Button, FileButton, TextInput } from '@mantine/core';
import { useQuery } from '@tanstack/react-query';
import { type FormEvent, useState } from 'react';
import { ConfirmInline } from '@/components/ui/confirm-inline';
import { DataList } from '@/components/ui/data-list';
import { EmptyState } from '@/components/ui/empty-state';
import { ErrorSummary } from '@/components/ui/error-summary';
import { Section } from '@/components/ui/facts';
import { Moment } from '@/components/ui/moment';
import { ListHead } from '@/components/ui/page-head';
import { problemOf } from '@/components/ui/problem';
import { StateBadge } from '@/components/ui/state-badge';
import { TaxonName } from '@/components/ui/taxon-name';
import type { DecisionRow, PackRow } from '@/lib/permits/wire';
import { paths } from '@/lib/platform/paths';
import { sayDay } from '@/lib/platform/say-dates';
import { say } from '@/lib/platform/words/say';
import { LegalCaution } from './legal-caution';
import classes from './permits.module.css';
import { decisionsOptions, packsOptions, useDecide, useLoadPack, useWithdrawDecision } from './queries';
import { StatusLists } from './status-lists';

/** What the coverage check goes by beside the permits: rule packs, imported lists, and what officers decided. */
export function LawPage() {
  return (
    <>
      <ListHead
        title={say('Rules and lists')}
        intro={say('What the coverage check goes by, beside the permits themselves.')}
      />
      <Packs />
      <StatusLists />
      <Decisions />
      <LegalCaution />
    </>
  );
}

function Packs() {
  const packs = useQuery(packsOptions());
  const load = useLoadPack();
  const read = async (file: File | null) => {
    if (file === null) return;
    load.mutate({ fileName: file.name, text: await file.text() });
  };
  const problem = problemOf(load.error);
  return (
    <Section
      id="packs"
      title={say('Rule packs')}
      note={say(
        'Each rule has its citation and date. Recalled rules wait for an officer’s confirmation; until then they can only tighten.',
      )}
      acts={
        packs.data?.abilities.manage ? (
          <FileButton accept="application/json,.json" onChange={(file) => void read(file)}>
            {(props) => (
              <Button {...props} variant="default" loading={load.isPending}>
                {say('Load a pack from its file')}
              </Button>
            )}
          </FileButton>
        ) : null
      }
    >
      <ErrorSummary problems={problem.fields ?? []} title={problem.title} />
      {load.error !== null && (problem.fields ?? []).length === 0 ? (
        <p role="alert">{problem.title}</p>
      ) : null}
      <DataList<PackRow>
        label={say('Rule packs')}
        columns={[
          { id: 'title', head: say('Pack|of rules'), cell: (row) => row.title },
          { id: 'version', head: say('Version'), cell: (row) => row.version },
          { id: 'place', head: say('For'), cell: (row) => row.jurisdiction },
          { id: 'rules', head: say('Rules'), numeric: true, cell: (row) => row.entries },
          { id: 'unverified', head: say('Unverified'), numeric: true, cell: (row) => row.unverified },
          { id: 'loaded', head: say('Loaded'), cell: (row) => <Moment at={row.loadedAt} /> },
          {
            id: 'state',
            head: say('Now'),
            cell: (row) => (
              <StateBadge tone={row.inForce ? 'settled' : 'neutral'}>
                {row.inForce ? say('In use') : row.active ? say('Older version') : say('Out of use')}
              </StateBadge>
            ),
          },
        ]}
        rows={packs.data?.rows}
        rowId={(row) => row.id}
        rowHref={(row) => paths.rulePack(row.id)}
        error={packs.error}
        onRetry={() => void packs.refetch()}
      />
    </Section>
  );
}

function Decisions() {
  const decisions = useQuery(decisionsOptions());
  const withdraw = useWithdrawDecision();
  const mayRule = decisions.data?.abilities.rule ?? false;
  return (
    <Section
      id="decisions"
      title={say('Decided names')}
      note={say(
        'A name on no list is unresolved, never unprotected. An officer decides it, with a citation.',
      )}
    >
      <DataList<DecisionRow>
        label={say('Decided names')}
        columns={[
          { id: 'name', head: say('Name'), cell: (row) => <TaxonName scientific={row.name} /> },
          {
            id: 'status',
            head: say('Decided'),
            cell: (row) => say('not protected in {jurisdiction}', { jurisdiction: row.jurisdiction }),
          },
          { id: 'cite', head: say('Citation'), cell: (row) => row.cite },
          { id: 'by', head: say('By'), cell: (row) => `${row.decidedBy}, ${sayDay(row.decidedOn)}` },
          {
            id: 'acts',
            head: '',
            cell: (row) =>
              mayRule ? (
                <ConfirmInline
                  act={say('Withdraw')}
                  question={say('{name} becomes unresolved again.', { name: row.name })}
                  confirm={say('Withdraw the decision')}
                  reason={{ label: say('Why?') }}
                  onConfirm={(reason) => withdraw.mutateAsync({ id: row.id, reason })}
                />
              ) : null,
          },
        ]}
        rows={decisions.data?.rows}
        rowId={(row) => row.id}
        error={decisions.error}
        onRetry={() => void decisions.refetch()}
        empty={<EmptyState title={say('No name was decided by hand')} />}
      />
      {mayRule ? <DecideForm /> : null}
    </Section>
  );
}

const EMPTY = { name: '', jurisdiction: '', cite: '', reason: '' };

function DecideForm() {
  const decide = useDecide();
  const [fields, setFields] = useState(EMPTY);
  const submit = (event: FormEvent) => {
    event.preventDefault();
    decide.mutate(fields, { onSuccess: () => setFields(EMPTY) });
  };
  const problem = problemOf(decide.error);
  const text = (name: keyof typeof EMPTY, label: string, placeholder?: string) => (
    <TextInput
      label={label}
      required
      placeholder={placeholder}
      value={fields[name]}
      error={problem.fields?.find(({ path }) => path === name)?.message}
      onChange={(event) => setFields({ ...fields, [name]: event.currentTarget.value })}
    />
  );
  return (
    <form onSubmit={submit} className={classes.form} aria-label={say('Decide a name')}>
      {decide.error === null ? null : <p role="alert">{problem.title}</p>}
      <div className={classes.row}>
        {text('name', say('Scientific name'))}
        {text('jurisdiction', say('Not protected in'), 'US')}
        {text('cite', say('Citation'))}
        {text('reason', say('Why?'))}
      </div>
      <div>
        <Button type="submit" variant="default" loading={decide.isPending}>
          {say('Decide: not protected')}
        </Button>
      </div>
    </form>
  );
}
