'use client';

import { Button, Group, NativeSelect, Stack, Textarea, TextInput, Title } from '@mantine/core';
import { useQuery } from '@tanstack/react-query';
import { useRouter } from 'next/navigation';
import { type FormEvent, useRef, useState } from 'react';
import { DataList } from '@/components/ui/data-list';
import { EmptyState } from '@/components/ui/empty-state';
import { ErrorSummary } from '@/components/ui/error-summary';
import { fieldId } from '@/components/ui/field-id';
import { ListHead } from '@/components/ui/page-head';
import { problemOf, problemsIn } from '@/components/ui/problem';
import { StateBadge } from '@/components/ui/state-badge';
import { TaxonName } from '@/components/ui/taxon-name';
import { ACCESSION_KINDS, type AccessionCandidate, accessionRequest } from '@/lib/accessions/schema';
import { paths } from '@/lib/platform/paths';
import { sayDay } from '@/lib/platform/say-dates';
import { countOf, say, sayWord } from '@/lib/platform/words/say';
import { candidateOptions, useMakeAccession } from './queries';

/** A new accession: its papers, and which accepted birds it holds. */
export function AccessionForm({ today }: { today: string }) {
  const router = useRouter();
  const make = useMakeAccession();
  const [chosen, setChosen] = useState<ReadonlySet<string>>(new Set());
  const [local, setLocal] = useState<{ path: string; message: string }[]>([]);
  const attempt = useRef(0);
  const key = useRef(crypto.randomUUID());

  const submit = (event: FormEvent<HTMLFormElement>) => {
    event.preventDefault();
    attempt.current += 1;
    const parsed = accessionRequest.safeParse({
      ...Object.fromEntries(new FormData(event.currentTarget)),
      salvageIds: [...chosen],
    });
    if (!parsed.success) {
      setLocal(problemsIn(parsed.error));
      return;
    }
    setLocal([]);
    make.mutate(
      { ...parsed.data, key: key.current },
      {
        onSuccess: (record) => router.push(paths.accession(record.id)),
        // A refused request did nothing: the next one is a new request.
        onError: () => {
          key.current = crypto.randomUUID();
        },
      },
    );
  };

  const refused = make.error === null ? [] : (problemOf(make.error).fields ?? []);
  const problems = local.length > 0 ? local : refused;
  const title = problemOf(make.error).title;
  return (
    <form onSubmit={submit} noValidate>
      <ListHead
        title={say('New accession')}
        intro={say('The number is given when you save; it is never used again.')}
      />
      <Stack gap="lg" maw={720}>
        <ErrorSummary
          problems={problems}
          attempt={attempt.current}
          title={local.length > 0 ? undefined : title}
        />
        {make.error !== null && problems.length === 0 ? <p role="alert">{title}</p> : null}
        <NativeSelect
          id={fieldId('kind')}
          name="kind"
          label={say('How it was acquired')}
          data={ACCESSION_KINDS.map((kind) => ({ value: kind, label: sayWord(kind) }))}
        />
        <TextInput
          id={fieldId('source')}
          name="source"
          label={say('From whom or where')}
          required
          maxLength={300}
        />
        <TextInput
          id={fieldId('receivedOn')}
          name="receivedOn"
          label={say('Received on')}
          type="date"
          max={today}
          defaultValue={today}
          required
        />
        <Textarea
          id={fieldId('agreement')}
          name="agreement"
          label={say('Agreement or permit papers')}
          autosize
          minRows={2}
        />
        <Textarea id={fieldId('remarks')} name="remarks" label={say('Remarks')} autosize minRows={2} />
      </Stack>
      <Title order={2} mt="xl" mb="xs" id={fieldId('salvageIds')} tabIndex={-1}>
        {say('Birds in this accession')}
      </Title>
      <Candidates chosen={chosen} setChosen={setChosen} />
      <Group mt="md">
        <Button type="submit" loading={make.isPending}>
          {chosen.size === 0
            ? say('Make the accession')
            : say('Make the accession of {of}', { of: countOf(chosen.size, 'bird') })}
        </Button>
      </Group>
    </form>
  );
}

function Candidates(props: {
  chosen: ReadonlySet<string>;
  setChosen: (chosen: ReadonlySet<string>) => void;
}) {
  const candidates = useQuery(candidateOptions());
  return (
    <DataList<AccessionCandidate>
      label={say('Accepted birds in no accession')}
      columns={[
        { id: 'number', head: say('Number'), cell: (row) => row.number },
        {
          id: 'taxon',
          head: say('Taxon'),
          cell: (row) => <TaxonName scientific={row.taxon} common={row.commonName} />,
        },
        { id: 'found', head: say('Found'), cell: (row) => sayDay(row.foundFrom) },
        { id: 'county', head: say('County'), deskOnly: true, cell: (row) => row.county },
        {
          id: 'ready',
          head: say('Ready'),
          cell: (row) =>
            row.obstacle === null ? (
              <StateBadge tone="settled">{say('Ready')}</StateBadge>
            ) : (
              <StateBadge tone="attention">{row.obstacle}</StateBadge>
            ),
        },
      ]}
      rows={candidates.data?.rows}
      rowId={(row) => row.id}
      loading={candidates.isFetching}
      error={candidates.error}
      onRetry={() => void candidates.refetch()}
      selection={{ selected: props.chosen, onChange: props.setChosen }}
      empty={
        <EmptyState title={say('No accepted bird waits')}>
          <p>{say('Birds come here when they are accepted in triage.')}</p>
        </EmptyState>
      }
    />
  );
}
