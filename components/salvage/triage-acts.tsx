'use client';

import { Button, Group, NativeSelect } from '@mantine/core';
import { useQuery } from '@tanstack/react-query';
import { type FormEvent, useState } from 'react';
import { ConfirmInline } from '@/components/ui/confirm-inline';
import { problemOf } from '@/components/ui/problem';
import { callApi } from '@/lib/platform/api';
import { say } from '@/lib/platform/words/say';
import type { SalvageRecord } from '@/lib/salvage/wire';
import { storageTree } from '@/lib/storage/wire';
import type { FindAct } from './queries';
import classes from './salvage.module.css';

/** What triage does next with the record, or what stands in its way. */
export function TriageActs({ find, act }: { find: SalvageRecord; act: FindAct }) {
  const { abilities, version } = find;
  const [accepting, setAccepting] = useState(false);
  const does = abilities.startTriage || abilities.accept || abilities.decline;
  if (!does && abilities.acceptObstacle === null) return null;
  return (
    <section className={classes.acts} aria-label={say('Triage')}>
      {act.error === null ? null : <p role="alert">{problemOf(act.error).title}</p>}
      {abilities.acceptObstacle === null ? null : <p>{abilities.acceptObstacle}</p>}
      {accepting ? <AcceptForm find={find} act={act} onDone={() => setAccepting(false)} /> : null}
      <Group align="flex-start">
        {abilities.startTriage ? (
          <Button
            loading={act.isPending && act.variables?.act === 'triage'}
            onClick={() => act.mutate({ act: 'triage', body: { version } })}
          >
            {find.state === 'declined' ? say('Take it up again') : say('Begin triage')}
          </Button>
        ) : null}
        {abilities.accept && !accepting ? (
          <Button onClick={() => setAccepting(true)}>{say('Accept this bird')}</Button>
        ) : null}
        {abilities.decline ? (
          <ConfirmInline
            act={say('Decline it')}
            question={say('It does not enter the collection. It can be taken up again.')}
            confirm={say('Decline it')}
            reason={{ label: say('Why?') }}
            onConfirm={(reason) => act.mutateAsync({ act: 'decline', body: { version, reason } })}
          />
        ) : null}
      </Group>
    </section>
  );
}

/** Accepting makes the bird and its carcass; a place can be given at once. */
function AcceptForm({ find, act, onDone }: { find: SalvageRecord; act: FindAct; onDone: () => void }) {
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
