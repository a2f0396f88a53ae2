'use client';

import { Button, Group, NativeSelect, Stack, TextInput } from '@mantine/core';
import { useQuery } from '@tanstack/react-query';
import { useState } from 'react';
import { ErrorSummary } from '@/components/ui/error-summary';
import { fieldId } from '@/components/ui/field-id';
import { problemOf, problemsIn } from '@/components/ui/problem';
import { borrowerRequest } from '@/lib/loans/schema';
import type { Borrower } from '@/lib/loans/wire';
import { countOf, phrases, say } from '@/lib/platform/words/say';
import { borrowersOptions, useAddBorrower } from './queries';

const sayHistory = ({ loans, open, lost }: Borrower): string =>
  loans === 0
    ? say('Has borrowed nothing yet.')
    : say('{of} so far, {open} open{x}.', {
        of: countOf(loans, 'loan'),
        open,
        x: lost > 0 ? say(', {of} lost', { of: countOf(lost, 'material') }) : '',
      });

/** Who borrows: somebody known, with their history, or somebody new. */
export function BorrowerChoice({ value, onChange }: { value: string; onChange: (id: string) => void }) {
  const known = useQuery(borrowersOptions());
  const [isNew, setIsNew] = useState(false);
  const all = known.data?.borrowers ?? [];
  const chosen = all.find(({ id }) => id === value);
  return (
    <Stack gap="sm">
      <Group align="flex-end">
        <NativeSelect
          id={fieldId('borrowerId')}
          label={say('Who borrows')}
          description={chosen === undefined ? undefined : sayHistory(chosen)}
          required
          data={[
            { value: '', label: say('Choose') },
            ...all.map(({ id, institution, contact }) => ({
              value: id,
              label: `${institution}, ${contact}`,
            })),
          ]}
          value={value}
          onChange={(event) => onChange(event.currentTarget.value)}
          style={{ flex: '1 1 260px' }}
        />
        {isNew ? null : (
          <Button variant="default" onClick={() => setIsNew(true)}>
            {say('Somebody new')}
          </Button>
        )}
      </Group>
      {isNew ? (
        <NewBorrower
          onMade={(id) => {
            setIsNew(false);
            onChange(id);
          }}
          onLeave={() => setIsNew(false)}
        />
      ) : null}
    </Stack>
  );
}

const EMPTY = { institution: '', contact: '', email: '', address: '', country: '' };
const FIELDS = phrases([
  { name: 'institution', label: 'Institution', needed: true },
  { name: 'contact', label: 'Person who answers for the loan', needed: true },
  { name: 'email', label: 'E-mail', needed: false },
  { name: 'address', label: 'Address', needed: false },
  { name: 'country', label: 'Country, two letters (ISO 3166-1)', needed: true },
] as const);

function NewBorrower({ onMade, onLeave }: { onMade: (id: string) => void; onLeave: () => void }) {
  const add = useAddBorrower();
  const [form, setForm] = useState(EMPTY);
  const [local, setLocal] = useState<{ path: string; message: string }[]>([]);
  const save = () => {
    const parsed = borrowerRequest.safeParse({
      ...form,
      email: form.email || null,
      address: form.address || null,
      country: form.country.toUpperCase(),
    });
    if (!parsed.success) {
      setLocal(problemsIn(parsed.error));
      return;
    }
    setLocal([]);
    add.mutate(parsed.data, { onSuccess: ({ id }) => onMade(id) });
  };
  return (
    <Stack gap="sm" maw={480}>
      <ErrorSummary
        problems={local.length > 0 ? local : (problemOf(add.error).fields ?? [])}
        title={problemOf(add.error).title}
        attempt={add.failureCount}
      />
      {FIELDS.map(({ name, label, needed }) => (
        <TextInput
          key={name}
          id={fieldId(name)}
          label={label}
          required={needed}
          value={form[name]}
          onChange={(event) => setForm({ ...form, [name]: event.currentTarget.value })}
        />
      ))}
      <Group>
        <Button variant="default" loading={add.isPending} onClick={save}>
          {say('Add the borrower')}
        </Button>
        <Button variant="subtle" onClick={onLeave}>
          {say('Leave it')}
        </Button>
      </Group>
    </Stack>
  );
}
