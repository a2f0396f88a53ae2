'use client';

import { Button, Group } from '@mantine/core';
import { useState } from 'react';
import { ConfirmInline } from '@/components/ui/confirm-inline';
import { whenOpened } from '@/components/ui/later';
import { problemOf } from '@/components/ui/problem';
import { say } from '@/lib/platform/words/say';
import type { SalvageRecord } from '@/lib/salvage/wire';
import type { FindAct } from './queries';
import classes from './salvage.module.css';

const AcceptForm = whenOpened(() => import('./accept-form').then((module) => module.AcceptForm), 3);

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
          <Button
            onPointerEnter={AcceptForm.prepare}
            onFocus={AcceptForm.prepare}
            onClick={() => setAccepting(true)}
          >
            {say('Accept this bird')}
          </Button>
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
