'use client';

import { Button, NativeSelect, Stack, Text } from '@mantine/core';
import { useQuery } from '@tanstack/react-query';
import { useId, useState } from 'react';
import { problemOf } from '@/components/ui/problem';
import { say } from '@/lib/platform/words/say';
import type { BenchPerson, QueueRow } from '@/lib/queue/wire';
import { benchPeopleOptions, useBirdAct } from './queries';

/** Whether somebody supervises this kind of bird: bench staff who do it alone. */
const supervises = (person: BenchPerson, { style, sizeClass }: QueueRow): boolean =>
  person.supervises &&
  person.skills.some(
    (skill) => skill.style === style && skill.sizeClass === sizeClass && skill.level === 'alone',
  );

/** Takes a bird that one does beside a supervisor: names who will be there. */
export function TakeBeside({ bird }: { bird: QueueRow }) {
  const [open, setOpen] = useState(false);
  const id = useId();
  return (
    <>
      <Button size="sm" aria-expanded={open} aria-controls={id} onClick={() => setOpen(!open)}>
        {say('Take it beside a supervisor')}
      </Button>
      <div id={id}>{open ? <SupervisorForm bird={bird} /> : null}</div>
    </>
  );
}

function SupervisorForm({ bird }: { bird: QueueRow }) {
  const people = useQuery(benchPeopleOptions());
  const act = useBirdAct();
  const [supervisorId, setSupervisorId] = useState('');
  const able = (people.data?.people ?? []).filter((person) => supervises(person, bird));
  if (people.data !== undefined && able.length === 0)
    return (
      <Text size="sm">{say('Nobody is signed off to supervise this kind of bird. Ask a preparator.')}</Text>
    );
  return (
    <Stack gap="xs" mt="xs">
      <NativeSelect
        label={say('Who will be there')}
        data={[
          { value: '', label: people.isPending ? say('Loading…') : say('Choose') },
          ...able.map(({ id, name }) => ({ value: id, label: name })),
        ]}
        value={supervisorId}
        onChange={(event) => setSupervisorId(event.currentTarget.value)}
      />
      <Button
        size="sm"
        disabled={supervisorId === ''}
        loading={act.isPending}
        onClick={() => act.mutate({ id: bird.id, act: 'take', body: { supervisorId } })}
      >
        {say('Take this bird')}
      </Button>
      {act.error === null ? null : (
        <Text size="sm" role="alert" c="var(--f-stop)">
          {problemOf(act.error).title}
        </Text>
      )}
    </Stack>
  );
}
