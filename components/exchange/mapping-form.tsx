'use client';

import { Button, NativeSelect, Stack, TextInput } from '@mantine/core';
import { type FormEvent, useState } from 'react';
import { DataList } from '@/components/ui/data-list';
import { ErrorSummary } from '@/components/ui/error-summary';
import { fieldId } from '@/components/ui/field-id';
import { problemOf } from '@/components/ui/problem';
import { IMPORT_FIELDS } from '@/lib/exchange/import-fields';
import type { ImportRecord } from '@/lib/exchange/schema';
import { phrases, say } from '@/lib/platform/words/say';
import { useImportAct } from './queries';

type Column = ImportRecord['suggestions'][number];

const FIELDS = phrases([
  { value: '', label: 'Leave it out' },
  ...IMPORT_FIELDS.map(({ id, label }) => ({ value: id, label })),
]);

/** Which field each column holds, the order of days and months, and the country of rows that name none. */
export function MappingForm({ run }: { run: ImportRecord }) {
  const act = useImportAct(run.id);
  const [fields, setFields] = useState<Readonly<Record<string, string>>>(
    () =>
      run.mapping?.fields ??
      Object.fromEntries(run.suggestions.map(({ index, fieldId: suggested }) => [index, suggested ?? ''])),
  );
  const [dateOrder, setDateOrder] = useState<string>(run.mapping?.dateOrder ?? '');
  const [country, setCountry] = useState(run.mapping?.defaults.country ?? '');
  const problem = problemOf(act.error);
  const submit = (event: FormEvent) => {
    event.preventDefault();
    act.mutate({
      act: 'check',
      body: {
        fields: Object.fromEntries(Object.entries(fields).filter(([, field]) => field !== '')),
        defaults: country.trim() === '' ? {} : { country: country.trim() },
        ...(dateOrder === '' ? {} : { dateOrder: dateOrder as 'day-first' | 'month-first' }),
      },
    });
  };
  return (
    <form onSubmit={submit} id={fieldId('fields')} tabIndex={-1}>
      <ErrorSummary problems={problem.fields ?? []} title={problem.title} />
      {act.error !== null && (problem.fields ?? []).length === 0 ? <p role="alert">{problem.title}</p> : null}
      <DataList<Column>
        label={say('Columns of the sheet')}
        columns={[
          { id: 'column', head: say('Column'), cell: (row) => row.column },
          {
            id: 'sample',
            head: say('First values'),
            cell: (row) =>
              run.sample
                .map((cells) => cells[row.index] ?? '')
                .filter((cell) => cell !== '')
                .slice(0, 3)
                .join(' · '),
          },
          {
            id: 'field',
            head: say('Means'),
            cell: (row) => (
              <NativeSelect
                aria-label={say('{column} means', { column: row.column })}
                value={fields[row.index] ?? ''}
                data={FIELDS}
                onChange={(event) => setFields({ ...fields, [row.index]: event.currentTarget.value })}
              />
            ),
          },
          { id: 'why', head: say('Why it was suggested'), deskOnly: true, cell: (row) => row.reason },
        ]}
        rows={run.suggestions}
        rowId={(row) => String(row.index)}
      />
      <Stack gap="md" maw={420} mt="md">
        <NativeSelect
          label={say('Dates such as 03/04/2018')}
          value={dateOrder}
          onChange={(event) => setDateOrder(event.currentTarget.value)}
          data={[
            { value: '', label: say('Ask me about each') },
            { value: 'day-first', label: say('Day first: 3 April') },
            { value: 'month-first', label: say('Month first: 4 March') },
          ]}
        />
        <TextInput
          label={say('Country of rows that name none')}
          description={say('Two letters, such as US')}
          value={country}
          maxLength={60}
          onChange={(event) => setCountry(event.currentTarget.value)}
        />
        <div>
          <Button type="submit" loading={act.isPending}>
            {say('Check every row')}
          </Button>
        </div>
      </Stack>
    </form>
  );
}
