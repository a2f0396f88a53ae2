'use client';

import { Button, Group, NativeSelect, TextInput } from '@mantine/core';
import { type FormEvent, useState } from 'react';
import { Section } from '@/components/ui/facts';
import { Moment } from '@/components/ui/moment';
import { problemOf } from '@/components/ui/problem';
import { sayWith } from '@/components/ui/say-with';
import { StateBadge } from '@/components/ui/state-badge';
import { say, sayWord } from '@/lib/platform/words/say';
import type { HoldRecord, SalvageRecord } from '@/lib/salvage/wire';
import type { FindAct } from './queries';
import classes from './salvage.module.css';

const sayWho = (roles: readonly string[]): string => roles.map((role) => role.replace('-', ' ')).join(' or ');

/** What stops the bird, who must be told, what to do meanwhile, and who may let it go on. */
export function HoldsSection({ find, act }: { find: SalvageRecord; act: FindAct }) {
  const open = find.holdList.filter(({ liftedAt }) => liftedAt === null);
  const lifted = find.holdList.filter(({ liftedAt }) => liftedAt !== null);
  const [placing, setPlacing] = useState(false);
  return (
    <Section
      id="holds"
      title={say('Holds')}
      acts={
        find.abilities.placeHolds.length > 0 && !placing ? (
          <Button variant="default" onClick={() => setPlacing(true)}>
            {say('Put it on hold')}
          </Button>
        ) : null
      }
    >
      {placing ? <PlaceForm find={find} act={act} onDone={() => setPlacing(false)} /> : null}
      {open.length === 0 ? <p>{say('Nothing holds it.')}</p> : null}
      <ul className={classes.list}>
        {open.map((hold) => (
          <OpenHold key={hold.id} hold={hold} version={find.version} act={act} />
        ))}
      </ul>
      {lifted.length === 0 ? null : (
        <details>
          <summary>{say('Lifted holds ({length})', { length: lifted.length })}</summary>
          <ul className={classes.list}>
            {lifted.map((hold) => (
              <li key={hold.id}>
                <p>
                  {sayWord(hold.kind)}: {hold.reason}
                </p>
                <p className={classes.quiet}>
                  {sayWith('lifted {moment} by {liftedBy}: {liftNote}{x}', {
                    moment: hold.liftedAt === null ? null : <Moment at={hold.liftedAt} />,
                    liftedBy: hold.liftedBy ?? say('the check'),
                    liftNote: hold.liftNote,
                    x: hold.document === null ? '' : ` (${hold.document})`,
                  })}
                </p>
              </li>
            ))}
          </ul>
        </details>
      )}
    </Section>
  );
}

function OpenHold({ hold, version, act }: { hold: HoldRecord; version: number; act: FindAct }) {
  const [lifting, setLifting] = useState(false);
  return (
    <li>
      <p>
        <StateBadge tone="stop">{sayWord(hold.kind)}</StateBadge> {hold.reason}
      </p>
      {hold.tellWhom === null ? null : (
        <p>
          <b>{say('To be told:')}</b> {hold.tellWhom}
        </p>
      )}
      <p>{say('{whatToDo} Local rules decide.', { whatToDo: hold.whatToDo })}</p>
      <p className={classes.quiet}>
        {sayWith('placed {moment} by {placedBy}; lifted by the {who}{x}', {
          moment: <Moment at={hold.placedAt} />,
          placedBy: hold.placedBy ?? say('the check'),
          who: sayWho(hold.liftedByRoles),
          x: hold.needsDocument ? say(', with a document') : '',
        })}
      </p>
      {lifting ? <LiftForm hold={hold} version={version} act={act} onDone={() => setLifting(false)} /> : null}
      {hold.mayLift && !lifting ? (
        <div>
          <Button variant="default" onClick={() => setLifting(true)}>
            {say('Lift this hold')}
          </Button>
        </div>
      ) : null}
    </li>
  );
}

type FormProps = { act: FindAct; onDone: () => void };

function LiftForm({ hold, version, act, onDone }: FormProps & { hold: HoldRecord; version: number }) {
  const [reason, setReason] = useState('');
  const [paper, setPaper] = useState('');
  const submit = (event: FormEvent) => {
    event.preventDefault();
    const body = { version, reason, documentReference: paper.trim() || null };
    act.mutate({ act: `holds/${hold.id}/lift`, body }, { onSuccess: onDone });
  };
  const problem = problemOf(act.error);
  return (
    <form onSubmit={submit} className={classes.acts}>
      {act.error === null ? null : <p role="alert">{problem.fields?.[0]?.message ?? problem.title}</p>}
      <TextInput
        label={say('Why may it go on?')}
        required
        value={reason}
        onChange={(event) => setReason(event.currentTarget.value)}
      />
      <TextInput
        label={
          hold.needsDocument
            ? say('Written release, instruction or ruling')
            : say('Document, if there is one')
        }
        required={hold.needsDocument}
        value={paper}
        onChange={(event) => setPaper(event.currentTarget.value)}
      />
      <Group>
        <Button type="submit" loading={act.isPending}>
          {say('Lift it')}
        </Button>
        <Button variant="default" onClick={onDone}>
          {say('Leave it on hold')}
        </Button>
      </Group>
    </form>
  );
}

function PlaceForm({ find, act, onDone }: FormProps & { find: SalvageRecord }) {
  const [kind, setKind] = useState(find.abilities.placeHolds[0] ?? '');
  const [reason, setReason] = useState('');
  const [tellWhom, setTellWhom] = useState('');
  const submit = (event: FormEvent) => {
    event.preventDefault();
    const body = { version: find.version, kind, reason, tellWhom: tellWhom.trim() || null };
    act.mutate({ act: 'holds', body }, { onSuccess: onDone });
  };
  return (
    <form onSubmit={submit} className={classes.acts}>
      {act.error === null ? null : <p role="alert">{problemOf(act.error).title}</p>}
      <NativeSelect
        label={say('Kind of hold')}
        data={find.abilities.placeHolds.map((value) => ({ value, label: sayWord(value) }))}
        value={kind}
        onChange={(event) => setKind(event.currentTarget.value)}
      />
      <TextInput
        label={say('Why is it held?')}
        required
        value={reason}
        onChange={(event) => setReason(event.currentTarget.value)}
      />
      <TextInput
        label={say('Who must be told?')}
        value={tellWhom}
        onChange={(event) => setTellWhom(event.currentTarget.value)}
      />
      <Group>
        <Button type="submit" loading={act.isPending}>
          {say('Put it on hold')}
        </Button>
        <Button variant="default" onClick={onDone}>
          {say('Not now')}
        </Button>
      </Group>
    </form>
  );
}
