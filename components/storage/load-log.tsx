'use client';

import { Button, FileInput, Group, NativeSelect, NumberInput, Stack } from '@mantine/core';
import { type FormEvent, useState } from 'react';
import { ErrorSummary } from '@/components/ui/error-summary';
import { fieldId } from '@/components/ui/field-id';
import { problemOf } from '@/components/ui/problem';
import { countOf, say } from '@/lib/platform/words/say';
import type { UnitRecord } from '@/lib/storage/wire';
import { useLoadLog } from './queries';

const HEAD_BYTES = 4_096;
const UNITS = [
  { value: 'C', label: '°C' },
  { value: 'F', label: '°F' },
  { value: 'K', label: 'K' },
];
/** Offsets from UTC by the half hour, as a logger's clock may run. */
const OFFSETS = Array.from({ length: 53 }, (_, index) => {
  const minutes = (index - 24) * 30;
  const text = new Date(Math.abs(minutes) * 60_000).toISOString().slice(11, 16);
  return `${minutes < 0 ? '-' : '+'}${text}`;
});

/** The column names of a table, from its first line. */
async function readColumns(file: File): Promise<string[]> {
  const text = await file.slice(0, HEAD_BYTES).text();
  const line = (text.replace(/^\uFEFF/, '').split(/\r?\n/, 1)[0] ?? '').trim();
  const sign = ['\t', ';'].find((one) => line.includes(one)) ?? ',';
  return line
    .split(sign)
    .map((name) => name.trim().replace(/^"|"$/g, ''))
    .filter((name) => name !== '');
}

const guess = (columns: readonly string[], pattern: RegExp): string =>
  columns.find((name) => pattern.test(name)) ?? columns[0] ?? '';

/** Reads a logger's file: which columns it has, in which unit and on which clock. The file is refused whole or taken. */
export function LoadLog({ unit }: { unit: UnitRecord }) {
  const load = useLoadLog(unit.id);
  const [file, setFile] = useState<File | null>(null);
  const [columns, setColumns] = useState<string[]>([]);
  const choose = async (chosen: File | null) => {
    load.reset();
    setFile(chosen);
    setColumns(chosen === null ? [] : await readColumns(chosen));
  };
  const submit = (event: FormEvent<HTMLFormElement>) => {
    event.preventDefault();
    if (file === null) return;
    const form = new FormData(event.currentTarget);
    const text = (name: string) => String(form.get(name) ?? '');
    load.mutate(
      {
        file,
        timeColumn: text('timeColumn'),
        temperatureColumn: text('temperatureColumn'),
        unit: text('unit'),
        utcOffset: text('utcOffset'),
        thresholdC: text('thresholdC'),
        longestStepMinutes: text('longestStepMinutes'),
      },
      { onSuccess: () => void choose(null) },
    );
  };
  const problem = problemOf(load.error);
  const shown = problem.fields?.length ? problem.fields : [{ path: 'file', message: problem.title ?? '' }];
  return (
    <form onSubmit={submit} noValidate>
      <Stack gap="md" maw={720} mb="lg">
        <ErrorSummary
          problems={load.error === null ? [] : shown}
          title={problem.title ?? say('Not taken:')}
        />
        {load.data !== undefined && (
          <p role="status">
            {say('Taken: {of}.', {
              of: countOf(
                load.data.rows.reduce((sum, row) => sum + row.readings, 0),
                'reading',
              ),
            })}
          </p>
        )}
        <FileInput
          id={fieldId('file')}
          label={say('File of the logger')}
          description={say('A table (CSV) with a line of column names')}
          accept=".csv,.txt,.tsv,text/csv"
          placeholder={say('Choose a file')}
          value={file}
          onChange={(chosen) => void choose(chosen)}
          w={360}
          maw="100%"
        />
        {file !== null && columns.length > 0 && (
          // A new file proposes its own columns.
          <Stack gap="md" key={`${file.name} ${file.size}`}>
            <Group align="flex-end">
              <NativeSelect
                name="timeColumn"
                label={say('Time')}
                data={columns}
                defaultValue={guess(columns, /time|date|zeit|at$/i)}
              />
              <NativeSelect
                name="temperatureColumn"
                label={say('Temperature')}
                data={columns}
                defaultValue={guess(columns, /temp|celsius|°|deg/i)}
              />
              <NativeSelect name="unit" label={say('In')} data={UNITS} />
              <NativeSelect
                name="utcOffset"
                label={say('Clock of the logger, from UTC')}
                data={[{ value: '', label: say('written in the file') }, ...OFFSETS]}
              />
            </Group>
            <Group align="flex-end">
              <NumberInput
                id={fieldId('thresholdC')}
                name="thresholdC"
                label={say('Too warm above, in °C')}
                defaultValue={unit.alarmAboveC ?? ''}
                w={184}
              />
              <NumberInput
                id={fieldId('longestStepMinutes')}
                name="longestStepMinutes"
                label={say('A gap is longer than, in minutes')}
                defaultValue={60}
                min={1}
                w={232}
              />
              <Button type="submit" loading={load.isPending}>
                {say('Read it')}
              </Button>
            </Group>
          </Stack>
        )}
      </Stack>
    </form>
  );
}
