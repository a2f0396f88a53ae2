'use client';

import { Button } from '@mantine/core';
import { useQuery } from '@tanstack/react-query';
import { ConfirmInline } from '@/components/ui/confirm-inline';
import { ErrorState } from '@/components/ui/error-state';
import { Section } from '@/components/ui/facts';
import { whenSeen } from '@/components/ui/later';
import { Link } from '@/components/ui/link';
import { Loading } from '@/components/ui/loading';
import { DeskHead } from '@/components/ui/page-head';
import { problemOf } from '@/components/ui/problem';
import { paths } from '@/lib/platform/paths';
import { sayDay } from '@/lib/platform/say-dates';
import { countOf, say, sayWord } from '@/lib/platform/words/say';
import type { DayPlanAnswer } from '@/lib/queue/plan-wire';
import { sayMinutes } from './minutes';
import { PlanBoard } from './plan-board';
import { PlanPull } from './plan-pull';
import { planOptions, usePlanAct } from './plan-queries';
import { PlanStateBadge } from './plan-state';
import { PlanWorking } from './plan-working';

const PlanChanges = whenSeen(() => import('./plan-changes').then((module) => module.PlanChanges), 8);

/** One day's plan: the proposal and its changes before, the board on the day. */
export function PlanDesk({ id }: { id: string }) {
  const { data: plan, error, refetch } = useQuery(planOptions(id));
  if (plan === undefined)
    return error === null ? (
      <Loading what={say('Loading the plan')} />
    ) : (
      <ErrorState error={error} onRetry={refetch} />
    );
  return (
    <>
      <PlanHead plan={plan} />
      <PlanWorking plan={plan} />
      <PlanVerdict plan={plan} />
      {plan.lines.length > 0 ? <PlanBoard plan={plan} /> : null}
      {plan.abilities.change ? <PlanChanges key={plan.id} plan={plan} /> : null}
      {plan.pull.length > 0 ? <PlanPull rounds={plan.pull} planOn={plan.planOn} /> : null}
      {plan.outcome.times.length > 0 ? (
        <Section
          id="times"
          title={say('Where the minutes come from')}
          note={say('Those who learn take longer; see the settings.')}
        >
          <ul>
            {plan.outcome.times.map((time) => (
              <li key={`${time.style} ${time.sizeClass}`}>
                {sayWord(time.style)}, {sayWord(time.sizeClass).toLowerCase()}: {time.sentence}
              </li>
            ))}
          </ul>
        </Section>
      ) : null}
    </>
  );
}

function PlanHead({ plan }: { plan: DayPlanAnswer }) {
  const act = usePlanAct(plan.id);
  const { abilities, lines, outcome } = plan;
  const given = lines.filter((line) => line.refused === null);
  const solved = outcome.result !== null && 'quality' in outcome.result ? outcome.result : null;
  return (
    <>
      <DeskHead
        title={say('Plan for {day}', { day: sayDay(plan.planOn) })}
        lede={
          <>
            <PlanStateBadge state={plan.state} /> {solved?.quality}
          </>
        }
        acts={
          <>
            {abilities.putInForce ? (
              <ConfirmInline
                act={say('Put in force')}
                tone="lead"
                question={say(
                  '{of} will be claimed for the people named. Birds that somebody took meanwhile are named and left out.',
                  { of: countOf(lines.length, 'bird') },
                )}
                confirm={say('Put in force')}
                keep={say('Not yet')}
                onConfirm={() => act.mutateAsync({ act: 'in-force', body: { version: plan.version } })}
              />
            ) : null}
            {lines.length > 0 ? (
              <Button component={Link} href={paths.daySheets(plan.id)} variant="default">
                {say('Sheets to print')}
              </Button>
            ) : null}
            {abilities.setAside ? (
              <ConfirmInline
                act={say('Set aside')}
                tone="attention"
                question={say(
                  'The plan is kept for the record. Birds already claimed stay with their people.',
                )}
                confirm={say('Set aside')}
                onConfirm={() => act.mutateAsync({ act: 'set-aside', body: {} })}
              />
            ) : null}
          </>
        }
        figures={
          solved === null
            ? []
            : [
                { id: 'birds', label: say('Birds'), value: given.length },
                { id: 'people', label: say('People'), value: plan.people.length },
                {
                  id: 'work',
                  label: say('Work'),
                  value: sayMinutes(given.reduce((sum, line) => sum + line.minutes, 0)),
                },
                {
                  id: 'done',
                  label: say('Prepared so far'),
                  value: given.filter((line) => line.bird.state === 'prepared').length,
                },
              ]
        }
      />
      {act.error === null ? null : <p role="alert">{problemOf(act.error).title}</p>}
    </>
  );
}

/** What stands in the way, what was left out, who could not be given a bird: nothing is lost in silence. */
function PlanVerdict({ plan }: { plan: DayPlanAnswer }) {
  const { result, dropped } = plan.outcome;
  const idle = result !== null && 'idle' in result ? result.idle : [];
  const refused = plan.lines.filter((line) => line.refused !== null);
  const nameOf = (id: string) => plan.people.find(({ personId }) => personId === id)?.name ?? say('somebody');
  const sentences =
    result === null
      ? []
      : 'rules' in result
        ? result.rules.map(({ rule, sentence }) => `${sayWord(rule)}: ${sentence}`)
        : 'sentence' in result
          ? [result.sentence]
          : [];
  const failed =
    plan.state === 'failed'
      ? [say('The solver failed; the failure was logged. Plan again, or tell an administrator.')]
      : [];
  const blocking = [...failed, ...sentences];
  const notes = [
    ...dropped,
    ...refused.map((line) =>
      say('Not given to {of}: {refused}', { of: nameOf(line.personId), refused: line.refused }),
    ),
    ...idle.map(({ personId, reason }) =>
      say('{of} has no bird: {reason}', { of: nameOf(personId), reason }),
    ),
  ];
  return (
    <>
      {blocking.length > 0 ? (
        <Section
          id="why"
          title={say('Why there is no plan')}
          note={say('Any one of these, changed, makes work possible.')}
        >
          <ul>
            {blocking.map((sentence) => (
              <li key={sentence}>{sentence}</li>
            ))}
          </ul>
        </Section>
      ) : null}
      {notes.length > 0 ? (
        <Section id="notes" title={say('Please note')}>
          <ul>
            {notes.map((note) => (
              <li key={note}>{note}</li>
            ))}
          </ul>
        </Section>
      ) : null}
    </>
  );
}
