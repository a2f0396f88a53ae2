'use client';

import { Button } from '@mantine/core';
import { useState } from 'react';
import { Section } from '@/components/ui/facts';
import { whenOpened } from '@/components/ui/later';
import { Moment } from '@/components/ui/moment';
import { sayWith } from '@/components/ui/say-with';
import { StateBadge } from '@/components/ui/state-badge';
import { say, sayWord } from '@/lib/platform/words/say';
import type { HoldRecord, SalvageRecord } from '@/lib/salvage/wire';
import type { FindAct } from './queries';
import classes from './salvage.module.css';

const LiftForm = whenOpened(() => import('./hold-forms').then((module) => module.LiftForm));
const PlaceForm = whenOpened(() => import('./hold-forms').then((module) => module.PlaceForm));

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
          <Button
            variant="default"
            onPointerEnter={PlaceForm.prepare}
            onFocus={PlaceForm.prepare}
            onClick={() => setPlacing(true)}
          >
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
          <Button
            variant="default"
            onPointerEnter={LiftForm.prepare}
            onFocus={LiftForm.prepare}
            onClick={() => setLifting(true)}
          >
            {say('Lift this hold')}
          </Button>
        </div>
      ) : null}
    </li>
  );
}
