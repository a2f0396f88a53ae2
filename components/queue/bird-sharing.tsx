'use client';

import { Button, Group, NativeSelect, Stack, Text, TextInput } from '@mantine/core';
import { useQuery } from '@tanstack/react-query';
import { useId, useState } from 'react';
import { problemOf } from '@/components/ui/problem';
import { sayWith } from '@/components/ui/say-with';
import { say } from '@/lib/platform/words/say';
import type { QueueRow } from '@/lib/queue/wire';
import { benchPeopleOptions, useBirdAct } from './queries';

/** Passes a taken bird to a colleague, or names who works on it too. */
export function BirdSharing({ bird }: { bird: QueueRow }) {
  const [open, setOpen] = useState(false);
  const id = useId();
  return (
    <>
      <Button
        size="compact-sm"
        variant="subtle"
        aria-expanded={open}
        aria-controls={id}
        onClick={() => setOpen(!open)}
      >
        {say('Hand over or share')}
      </Button>
      <div id={id}>{open ? <SharingForm bird={bird} onDone={() => setOpen(false)} /> : null}</div>
    </>
  );
}

function SharingForm({ bird, onDone }: { bird: QueueRow; onDone: () => void }) {
  const people = useQuery(benchPeopleOptions());
  const act = useBirdAct();
  const [personId, setPersonId] = useState('');
  const [reason, setReason] = useState('');
  const others = (people.data?.people ?? []).filter((person) => person.id !== bird.claimedBy?.id);
  const handOver = () =>
    act.mutate(
      { id: bird.id, act: 'hand-over', body: { toPersonId: personId, reason: reason.trim() || undefined } },
      { onSuccess: onDone },
    );
  const share = (withPersonId: string | null) =>
    act.mutate(
      { id: bird.id, act: 'co-work', body: { version: bird.version, withPersonId } },
      { onSuccess: onDone },
    );
  return (
    <Stack gap="xs" mt="xs">
      <NativeSelect
        label={say('Colleague')}
        data={[
          { value: '', label: people.isPending ? say('Loading…') : say('Choose') },
          ...others.map(({ id, name }) => ({ value: id, label: name })),
        ]}
        value={personId}
        onChange={(event) => setPersonId(event.currentTarget.value)}
      />
      <TextInput
        label={say('Why (for the record, optional)')}
        value={reason}
        maxLength={500}
        onChange={(event) => setReason(event.currentTarget.value)}
      />
      <Group gap="xs">
        <Button size="sm" disabled={personId === ''} loading={act.isPending} onClick={handOver}>
          {say('Hand it over')}
        </Button>
        <Button
          size="sm"
          variant="default"
          disabled={personId === ''}
          loading={act.isPending}
          onClick={() => share(personId)}
        >
          {say('Work on it together')}
        </Button>
        {bird.coWorker === null ? null : (
          <Button size="sm" variant="default" loading={act.isPending} onClick={() => share(null)}>
            {sayWith('{name} alone again', { name: bird.claimedBy?.name })}
          </Button>
        )}
      </Group>
      {act.error === null ? null : (
        <Text size="sm" role="alert" c="var(--f-stop)">
          {problemOf(act.error).title}
        </Text>
      )}
    </Stack>
  );
}
