'use client';

import { Button } from '@mantine/core';
import { useState } from 'react';
import { ConfirmInline } from '@/components/ui/confirm-inline';
import { Section } from '@/components/ui/facts';
import { whenOpened } from '@/components/ui/later';
import { Moment } from '@/components/ui/moment';
import { type Reason, Reasons } from '@/components/ui/reasons';
import { sayWith } from '@/components/ui/say-with';
import { StateBadge } from '@/components/ui/state-badge';
import { paths } from '@/lib/platform/paths';
import { say, sayWord } from '@/lib/platform/words/say';
import type { SalvageRecord } from '@/lib/salvage/wire';
import type { FindAct } from './queries';
import classes from './salvage.module.css';
import { COVERAGE_TONES, OUTCOME_TONES } from './words';

const RulingForm = whenOpened(() => import('./ruling-form').then((module) => module.RulingForm), 6);

type Check = NonNullable<SalvageRecord['check']>;

/** Whether the bird is lawfully held, by which authority, and every reason with its clause or citation. */
export function CoverageSection({ find, act }: { find: SalvageRecord; act: FindAct }) {
  const { check, abilities } = find;
  const [ruling, setRuling] = useState(false);
  return (
    <Section
      id="coverage"
      title={say('Coverage')}
      note={
        check === null
          ? null
          : sayWith('Checked {moment}', { moment: <Moment at={check.checkedAt} show="both" /> })
      }
      acts={
        <>
          {abilities.recheck ? (
            <Button
              variant="default"
              loading={act.isPending && act.variables?.act === 'check'}
              onClick={() => act.mutate({ act: 'check', body: { version: find.version } })}
            >
              {say('Check again')}
            </Button>
          ) : null}
          {abilities.rule && !ruling ? (
            <Button variant="default" onClick={() => setRuling(true)}>
              {say('Rule on it')}
            </Button>
          ) : null}
        </>
      }
    >
      {find.ruling === null ? null : <Ruling find={find} act={act} />}
      {ruling ? <RulingForm find={find} act={act} onDone={() => setRuling(false)} /> : null}
      {check === null ? <p>{say('It has not been checked yet.')}</p> : <Verdict find={find} check={check} />}
    </Section>
  );
}

function Verdict({ find, check }: { find: SalvageRecord; check: Check }) {
  const authority = check.authority?.title ?? say('No authority fits');
  return (
    <>
      {check.whoMustBeTold.map((whom) => (
        <p key={whom}>
          <StateBadge tone="stop">{say('To be told: {whom}', { whom })}</StateBadge>
        </p>
      ))}
      <Reasons
        tone={COVERAGE_TONES[check.verdict]}
        verdict={`${sayWord(check.verdict)}: ${authority}`}
        reasons={check.reasons.map((reason, index) => toReason(reason, index, find))}
      />
      {check.others.length === 0 ? null : (
        <details>
          <summary>
            {say('Other authorities that were tried ({length})', { length: check.others.length })}
          </summary>
          {check.others.map((other) => (
            <Reasons
              key={other.title}
              tone={COVERAGE_TONES[other.verdict]}
              verdict={`${sayWord(other.verdict)}: ${other.title}`}
              reasons={other.against.map((reason, index) => toReason(reason, index, find))}
              closing={null}
            />
          ))}
        </details>
      )}
    </>
  );
}

/** A clause's reason leads to the clause; a pack's rule names its citation. */
function toReason(reason: Check['reasons'][number], index: number, find: SalvageRecord): Reason {
  const ofClause = reason.clauseId !== null;
  const permitId = reason.authorityId;
  return {
    id: `${index} ${reason.code}`,
    tone: OUTCOME_TONES[reason.outcome],
    text: reason.message,
    clause: ofClause
      ? say('Clause {clauseId}{x}', {
          clauseId: reason.clauseId,
          x: find.permit === null ? '' : say(' of {number}', { number: find.permit.number }),
        })
      : undefined,
    clauseHref:
      ofClause && permitId !== null ? `${paths.permit(permitId)}#clause-${reason.clauseId}` : undefined,
    citation: ofClause ? undefined : (reason.cite ?? undefined),
    unverified: reason.unverified,
  };
}

function Ruling({ find, act }: { find: SalvageRecord; act: FindAct }) {
  const { ruling, version, abilities } = find;
  if (ruling === null) return null;
  return (
    <div className={classes.acts}>
      <p>
        <StateBadge tone={COVERAGE_TONES[ruling.verdict]}>
          {say('Ruled: {word}', { word: sayWord(ruling.verdict) })}
        </StateBadge>{' '}
        {say('by ')}
        {ruling.by}, <Moment at={ruling.at} />, {ruling.cite}
      </p>
      <p>{ruling.reason}</p>
      {abilities.rule ? (
        <ConfirmInline
          act={say('Take the ruling back')}
          question={say('The verdict of the check stands again.')}
          confirm={say('Take it back')}
          reason={{ label: say('Why?') }}
          onConfirm={(reason) => act.mutateAsync({ act: 'ruling/end', body: { version, reason } })}
        />
      ) : null}
    </div>
  );
}
