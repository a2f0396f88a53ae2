'use client';

import { Radio, Stack, Text, TextInput } from '@mantine/core';
import { useDebouncedValue } from '@mantine/hooks';
import { useQuery } from '@tanstack/react-query';
import { useState } from 'react';
import { ErrorState } from '@/components/ui/error-state';
import { fieldId } from '@/components/ui/field-id';
import { say } from '@/lib/platform/words/say';
import type { ProposedPlace } from '@/lib/storage/schema';
import { placesOptions } from './queries';

export type PickedPlace = { unitId: string; position: string | null };

const SETTLE_MS = 250;

/** Where to put materials: beside their relatives, or in a unit found by its name or scanned code. */
export function PlacePicker({
  ids,
  value,
  onChange,
}: {
  ids: readonly string[];
  value: PickedPlace | null;
  onChange: (place: PickedPlace | null) => void;
}) {
  const [words, setWords] = useState('');
  const [looked] = useDebouncedValue(words, SETTLE_MS);
  const places = useQuery(placesOptions(ids, looked));
  const proposals = places.data?.proposals ?? [];
  const known = new Set(proposals.map(({ unitId }) => unitId));
  const shown = [...(places.data?.found ?? []).filter(({ unitId }) => !known.has(unitId)), ...proposals];
  const picked = shown.find(({ unitId }) => unitId === value?.unitId);
  if (places.error) {
    return (
      <ErrorState
        what={say('Places could not be proposed.')}
        error={places.error}
        onRetry={() => void places.refetch()}
      />
    );
  }
  return (
    <Stack gap="xs">
      <TextInput
        id={fieldId('place')}
        label={say('Where it is put')}
        description={say('Scan or type the code of a drawer or box, or a part of its name.')}
        value={words}
        onChange={(event) => setWords(event.currentTarget.value)}
      />
      <Radio.Group
        aria-label={say('Proposed places')}
        value={value?.unitId ?? ''}
        onChange={(unitId) => onChange({ unitId, position: null })}
      >
        <Stack gap={6}>
          {shown.map((place) => (
            <Radio key={place.unitId} value={place.unitId} label={place.path} description={sayPlace(place)} />
          ))}
        </Stack>
      </Radio.Group>
      {shown.length === 0 && !places.isFetching && (
        <Text size="sm">
          {looked.trim() === ''
            ? say('Nothing of this kind is shelved yet, so no place is proposed.')
            : say('No unit has this code or name.')}
        </Text>
      )}
      {picked?.positioned && (
        <TextInput
          label={say('Position in {path}', { path: picked.path })}
          description={ids.length > 1 ? say('A position takes one: move these on one by one.') : undefined}
          required
          maw={200}
          value={value?.position ?? ''}
          onChange={(event) =>
            onChange({ unitId: picked.unitId, position: event.currentTarget.value || null })
          }
        />
      )}
    </Stack>
  );
}

const sayPlace = ({ reason, free, code }: ProposedPlace): string =>
  reason ??
  (free === null ? say('Code {code}.', { code }) : say('Code {code}, room for {free} more.', { code, free }));
