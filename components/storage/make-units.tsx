'use client';

import { Button, Checkbox, Group, NativeSelect, NumberInput, Stack, TextInput } from '@mantine/core';
import { type FormEvent, useRef, useState } from 'react';
import { ErrorSummary } from '@/components/ui/error-summary';
import { fieldId } from '@/components/ui/field-id';
import { problemOf, problemsIn } from '@/components/ui/problem';
import { countOf, phrases, say } from '@/lib/platform/words/say';
import { allowedParents } from '@/lib/storage/rules';
import {
  positionSchemes,
  preservationKinds,
  type StorageUnitKind,
  storageUnitKinds,
} from '@/lib/storage/schema';
import { makeUnitsRequest, type UnitRow } from '@/lib/storage/wire';
import { useMakeUnits } from './queries';
import { PRESERVATION_LABELS, sayKind } from './words';

export const SCHEME_LABELS: Record<(typeof positionSchemes)[number], string> = phrases({
  'row-letter': 'A1, A2… along rows',
  'column-letter': 'A1, A2… down columns',
  'running-by-row': '1, 2, 3… along rows',
  'running-by-column': '1, 2, 3… down columns',
});

const number = (value: FormDataEntryValue | null): number | null =>
  value === null || value === '' ? null : Number(value);

/** What a form of a unit's settings says, ready to be parsed. */
export function readSettings(form: FormData) {
  const rows = number(form.get('rows'));
  const columns = number(form.get('columns'));
  return {
    name: form.get('name'),
    grid: rows === null && columns === null ? null : { rows, columns, scheme: form.get('scheme') },
    capacity: number(form.get('capacity')),
    targetTempC: number(form.get('targetTempC')),
    alarmAboveC: number(form.get('alarmAboveC')),
    allowedPreservations: form.getAll('allowedPreservations'),
  };
}

/** Fields of a unit's settings: grid or capacity, temperature and alarm, what may be kept there. */
export function SettingsFields({ unit }: { unit?: UnitRow }) {
  const id = (path: string) => fieldId(path);
  return (
    <>
      <Group align="flex-end">
        <NumberInput
          id={id('grid.rows')}
          name="rows"
          label={say('Rows')}
          min={1}
          max={1000}
          w={104}
          defaultValue={unit?.grid?.rows ?? ''}
        />
        <NumberInput
          id={id('grid.columns')}
          name="columns"
          label={say('Columns')}
          min={1}
          max={1000}
          w={104}
          defaultValue={unit?.grid?.columns ?? ''}
        />
        <NativeSelect
          name="scheme"
          label={say('Positions are named')}
          data={positionSchemes.map((value) => ({ value, label: SCHEME_LABELS[value] }))}
          defaultValue={unit?.grid?.scheme ?? 'row-letter'}
        />
        <NumberInput
          id={id('capacity')}
          name="capacity"
          label={say('Or room for')}
          description={say('without positions')}
          min={1}
          w={136}
          defaultValue={unit?.capacity ?? ''}
        />
      </Group>
      <Group align="flex-end">
        <NumberInput
          id={id('targetTempC')}
          name="targetTempC"
          label={say('Set to, in °C')}
          description={say('Empty: as around it')}
          w={176}
          defaultValue={unit?.targetTempC ?? ''}
        />
        <NumberInput
          id={id('alarmAboveC')}
          name="alarmAboveC"
          label={say('Too warm above, in °C')}
          description={say('For its temperature log')}
          w={208}
          defaultValue={unit?.alarmAboveC ?? ''}
        />
      </Group>
      <Checkbox.Group
        label={say('What may be kept here')}
        description={say('None ticked: as around it.')}
        defaultValue={unit?.allowedPreservations ?? []}
      >
        <Group mt="xs">
          {preservationKinds.map((kind) => (
            <Checkbox key={kind} name="allowedPreservations" value={kind} label={PRESERVATION_LABELS[kind]} />
          ))}
        </Group>
      </Checkbox.Group>
    </>
  );
}

/** Adds a unit, or several alike, to a place (or at the top of the tree). */
export function MakeUnits({ parent }: { parent: UnitRow | null }) {
  const make = useMakeUnits();
  const kinds = storageUnitKinds.filter((kind) => allowedParents[kind].includes(parent?.kind ?? null));
  const [kind, setKind] = useState<StorageUnitKind>(kinds.includes('box') ? 'box' : (kinds[0] ?? 'box'));
  const [local, setLocal] = useState<{ path: string; message: string }[]>([]);
  const attempt = useRef(0);
  const key = useRef(crypto.randomUUID());
  const form = useRef<HTMLFormElement>(null);
  if (kinds.length === 0) return null;

  const submit = (event: FormEvent<HTMLFormElement>) => {
    event.preventDefault();
    attempt.current += 1;
    const data = new FormData(event.currentTarget);
    const parsed = makeUnitsRequest.safeParse({
      ...readSettings(data),
      parentId: parent?.id ?? null,
      kind,
      count: number(data.get('count')) ?? 1,
      code: data.get('code') || null,
      parentPosition: data.get('parentPosition') || null,
    });
    setLocal(parsed.success ? [] : problemsIn(parsed.error));
    if (!parsed.success) return;
    make.mutate(
      { ...parsed.data, key: key.current },
      {
        onSuccess: () => form.current?.reset(),
        onSettled: () => {
          key.current = crypto.randomUUID();
        },
      },
    );
  };
  const refused = make.error === null ? [] : (problemOf(make.error).fields ?? []);
  const title = problemOf(make.error).title;
  const alone =
    make.error !== null && refused.length === 0 && title ? [{ path: 'name', message: title }] : [];
  return (
    <form ref={form} onSubmit={submit} noValidate>
      <Stack gap="md" maw={720}>
        <ErrorSummary
          problems={local.length > 0 ? local : [...refused, ...alone]}
          attempt={attempt.current}
          title={local.length > 0 ? undefined : say('Nothing was added:')}
        />
        {make.data !== undefined && make.error === null && (
          <p role="status">
            {say('Added {units}.', {
              units: make.data.units.map((unit) => `${unit.name} (${unit.code})`).join(', '),
            })}
          </p>
        )}
        <Group align="flex-end">
          <NativeSelect
            label={say('What it is')}
            data={kinds.map((value) => ({ value, label: sayKind(value) }))}
            value={kind}
            onChange={(event) => setKind(event.currentTarget.value as StorageUnitKind)}
          />
          <TextInput
            id={fieldId('name')}
            name="name"
            label={say('Name')}
            defaultValue={sayKind(kind)}
            key={kind}
          />
          <NumberInput
            id={fieldId('count')}
            name="count"
            label={say('How many')}
            min={1}
            max={200}
            defaultValue={1}
            w={112}
          />
        </Group>
        <SettingsFields />
        <Group align="flex-end">
          <TextInput
            id={fieldId('code')}
            name="code"
            label={say('Code on its label')}
            description={say('Empty: a running code')}
            w={208}
          />
          {parent?.grid && (
            <TextInput
              id={fieldId('parentPosition')}
              name="parentPosition"
              label={say('Position in {name}', { name: parent.name })}
              description={say('Empty: the next free')}
              w={208}
            />
          )}
        </Group>
        <div>
          <Button type="submit" loading={make.isPending}>
            {say('Add {x}', {
              x: parent === null ? say('to the store') : say('to {name}', { name: parent.name }),
            })}
          </Button>
        </div>
        {parent !== null && parent.places !== null && (
          <p>{say('{of} free here.', { of: countOf(Math.max(0, parent.places - parent.load), 'place') })}</p>
        )}
      </Stack>
    </form>
  );
}
