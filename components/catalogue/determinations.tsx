'use client';

import { Button, Group, NativeSelect, Stack, Textarea, TextInput } from '@mantine/core';
import { useQuery } from '@tanstack/react-query';
import { type FormEvent, useState } from 'react';
import { DataList } from '@/components/ui/data-list';
import { EmptyState } from '@/components/ui/empty-state';
import { ErrorSummary } from '@/components/ui/error-summary';
import { Section } from '@/components/ui/facts';
import { fieldId } from '@/components/ui/field-id';
import { problemOf } from '@/components/ui/problem';
import { StateBadge } from '@/components/ui/state-badge';
import { determinationRequest, QUALIFIERS } from '@/lib/catalogue/schema';
import type { CatalogueRecord } from '@/lib/catalogue/wire';
import { sayDay } from '@/lib/platform/say-dates';
import { taxonOptions, useSheetChange } from './queries';

/** Every identification of the bird, the current one marked; and a further one. */
export function Determinations({ record }: { record: CatalogueRecord }) {
  const [open, setOpen] = useState(false);
  return (
    <Section
      id="determinations"
      title="Identification"
      acts={
        record.abilities.determine && !open ? (
          <Button variant="default" onClick={() => setOpen(true)}>
            Identify anew
          </Button>
        ) : null
      }
    >
      <DataList
        label="Identifications"
        columns={[
          {
            id: 'name',
            head: 'Name',
            cell: (row) => (
              <>
                {[row.qualifier, row.name].filter((part) => part !== null).join(' ')}{' '}
                {row.current ? <StateBadge tone="settled">current</StateBadge> : null}
              </>
            ),
          },
          { id: 'by', head: 'Identified by', cell: (row) => row.determinedBy },
          { id: 'on', head: 'On', cell: (row) => sayDay(row.determinedOn) },
          { id: 'as', head: 'As written', deskOnly: true, cell: (row) => row.verbatim },
          { id: 'remarks', head: 'Remarks', deskOnly: true, cell: (row) => row.remarks ?? '' },
        ]}
        rows={record.determinations}
        rowId={(row) => row.id}
        empty={
          <EmptyState title="Identified in the field only">
            <p>The first identification is written down with approval.</p>
          </EmptyState>
        }
      />
      {open ? <DeterminationForm birdId={record.birdId} onDone={() => setOpen(false)} /> : null}
    </Section>
  );
}

function DeterminationForm({ birdId, onDone }: { birdId: string; onDone: () => void }) {
  const change = useSheetChange(birdId);
  const [verbatim, setVerbatim] = useState('');
  const taxa = useQuery(taxonOptions(verbatim.trim()));
  const [local, setLocal] = useState<{ path: string; message: string }[]>([]);
  const submit = (event: FormEvent<HTMLFormElement>) => {
    event.preventDefault();
    const form = Object.fromEntries(new FormData(event.currentTarget));
    const parsed = determinationRequest.safeParse({
      ...form,
      taxonId: form.taxonId || null,
      qualifier: form.qualifier || null,
      remarks: form.remarks || null,
    });
    if (!parsed.success) {
      setLocal(parsed.error.issues.map(({ path, message }) => ({ path: path.join('.'), message })));
      return;
    }
    setLocal([]);
    change.mutate({ act: 'determine', body: parsed.data }, { onSuccess: onDone });
  };
  const problem = problemOf(change.error);
  const problems = local.length > 0 ? local : (problem.fields ?? []);
  return (
    <form onSubmit={submit} noValidate>
      <Stack gap="md" maw={560} mt="md">
        <ErrorSummary problems={problems} title={problem.title} attempt={change.failureCount} />
        <TextInput
          id={fieldId('verbatim')}
          name="verbatim"
          label="Name as the identifier gave it"
          required
          value={verbatim}
          onChange={(event) => setVerbatim(event.currentTarget.value)}
        />
        <NativeSelect
          id={fieldId('taxonId')}
          name="taxonId"
          label="Taxon of the checklist"
          data={[
            { value: '', label: 'none of the checklist' },
            ...(taxa.data?.rows ?? []).map(({ id, scientificName, commonName }) => ({
              value: id,
              label: commonName === null ? scientificName : `${scientificName}, ${commonName}`,
            })),
          ]}
        />
        <NativeSelect
          id={fieldId('qualifier')}
          name="qualifier"
          label="How sure"
          data={[{ value: '', label: 'sure' }, ...QUALIFIERS.map((value) => ({ value, label: value }))]}
        />
        <TextInput id={fieldId('determinedBy')} name="determinedBy" label="Identified by" required />
        <TextInput
          id={fieldId('determinedOn')}
          name="determinedOn"
          label="Identified on"
          type="date"
          required
        />
        <Textarea id={fieldId('remarks')} name="remarks" label="Why, by what characters" />
        <Group>
          <Button type="submit" loading={change.isPending}>
            Make it the current identification
          </Button>
          <Button variant="default" onClick={onDone}>
            Leave it as it is
          </Button>
        </Group>
      </Stack>
    </form>
  );
}
