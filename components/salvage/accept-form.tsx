'use client';

import { Button, Group, NativeSelect } from '@mantine/core';
import { useQuery } from '@tanstack/react-query';
import { type FormEvent, useState } from 'react';
import { callApi } from '@/lib/platform/api';
import { say } from '@/lib/platform/words/say';
import type { SalvageRecord } from '@/lib/salvage/wire';
import { storageTree } from '@/lib/storage/wire';
import type { FindAct } from './queries';
import classes from './salvage.module.css';

/** Accepting makes the bird and its carcass; a place can be given at once. */
export function AcceptForm({ find, act, onDone }: { find: SalvageRecord; act: FindAct; onDone: () => void }) {
  const [unitId, setUnitId] = useState('');
  const tree = useQuery({
    queryKey: ['storage', 'tree'],
    queryFn: ({ signal }) => callApi('/api/storage', { schema: storageTree, signal }),
    enabled: find.abilities.store,
  });
  // Boxes with numbered places hold vials; a carcass lies in a freezer or on a shelf.
  const units = (tree.data?.units ?? []).filter(({ active, grid }) => active && grid === null);
  const submit = (event: FormEvent) => {
    event.preventDefault();
    const storage = unitId === '' ? null : { unitId };
    act.mutate({ act: 'accept', body: { version: find.version, storage } }, { onSuccess: onDone });
  };
  return (
    <form onSubmit={submit} className={classes.group}>
      {find.abilities.store ? (
        <NativeSelect
          label={say('Where it goes now')}
          data={[
            { value: '', label: say('Nowhere yet: it stays in custody') },
            ...units.map(({ id, path }) => ({ value: id, label: path })),
          ]}
          value={unitId}
          onChange={(event) => setUnitId(event.currentTarget.value)}
        />
      ) : null}
      <Group>
        <Button type="submit" loading={act.isPending}>
          {say('Accept this bird')}
        </Button>
        <Button variant="default" onClick={onDone}>
          {say('Not now')}
        </Button>
      </Group>
    </form>
  );
}
