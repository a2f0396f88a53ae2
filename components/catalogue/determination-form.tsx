'use client';

import { Button, Group, NativeSelect, Stack, Textarea, TextInput } from '@mantine/core';
import { useQuery } from '@tanstack/react-query';
import { type FormEvent, useState } from 'react';
import { ErrorSummary } from '@/components/ui/error-summary';
import { fieldId } from '@/components/ui/field-id';
import { problemOf, problemsIn } from '@/components/ui/problem';
import { type DeterminationRequest, determinationRequest, QUALIFIERS } from '@/lib/catalogue/schema';
import { say } from '@/lib/platform/words/say';
import { taxonOptions } from './queries';

/** Who says what it is, when and why: for one bird or several. */
export function DeterminationForm({
  error,
  isPending,
  attempt,
  onSubmit,
  onLeave,
}: {
  error: unknown;
  isPending: boolean;
  /** How often it was refused, so that each refusal is told. */
  attempt: number;
  onSubmit: (determination: DeterminationRequest) => void;
  onLeave: () => void;
}) {
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
      setLocal(problemsIn(parsed.error));
      return;
    }
    setLocal([]);
    onSubmit(parsed.data);
  };
  const problem = problemOf(error);
  const problems = local.length > 0 ? local : (problem.fields ?? []);
  return (
    <form onSubmit={submit} noValidate>
      <Stack gap="md" maw={560} mt="md">
        <ErrorSummary problems={problems} title={problem.title} attempt={attempt} />
        <TextInput
          id={fieldId('verbatim')}
          name="verbatim"
          label={say('Name as the identifier gave it')}
          required
          value={verbatim}
          onChange={(event) => setVerbatim(event.currentTarget.value)}
        />
        <NativeSelect
          id={fieldId('taxonId')}
          name="taxonId"
          label={say('Taxon of the checklist')}
          data={[
            { value: '', label: say('none of the checklist') },
            ...(taxa.data?.rows ?? []).map(({ id, scientificName, commonName }) => ({
              value: id,
              label: commonName === null ? scientificName : `${scientificName}, ${commonName}`,
            })),
          ]}
        />
        <NativeSelect
          id={fieldId('qualifier')}
          name="qualifier"
          label={say('How sure')}
          data={[{ value: '', label: say('sure') }, ...QUALIFIERS.map((value) => ({ value, label: value }))]}
        />
        <TextInput id={fieldId('determinedBy')} name="determinedBy" label={say('Identified by')} required />
        <TextInput
          id={fieldId('determinedOn')}
          name="determinedOn"
          label={say('Identified on')}
          type="date"
          required
        />
        <Textarea id={fieldId('remarks')} name="remarks" label={say('Why, by what characters')} />
        <Group>
          <Button type="submit" loading={isPending}>
            {say('Make it the current identification')}
          </Button>
          <Button variant="default" onClick={onLeave}>
            {say('Leave it as it is')}
          </Button>
        </Group>
      </Stack>
    </form>
  );
}
