'use client';

import { Button } from '@mantine/core';
import { useQuery } from '@tanstack/react-query';
import Link from 'next/link';
import { ConfirmInline } from '@/components/ui/confirm-inline';
import { ErrorState } from '@/components/ui/error-state';
import { Section } from '@/components/ui/facts';
import { Loading } from '@/components/ui/loading';
import { DeskHead } from '@/components/ui/page-head';
import { problemOf } from '@/components/ui/problem';
import { countOf, sayWord } from '@/components/ui/words';
import { paths } from '@/lib/platform/paths';
import { sayDay } from '@/lib/platform/say-dates';
import type { DayPlanAnswer } from '@/lib/queue/plan-wire';
import { sayMinutes } from './minutes';
import { PlanBoard } from './plan-board';
import { PlanChanges } from './plan-changes';
import { PlanPull } from './plan-pull';
import { planOptions, usePlanAct } from './plan-queries';
import { PlanStateBadge } from './plan-state';
import { PlanWorking } from './plan-working';

/** One day's plan: the proposal and its changes before, the board on the day. */
export function PlanDesk({ id }: { id: string }) {
  const { data: plan, error, refetch } = useQuery(planOptions(id));
  if (plan === undefined)
    return error === null ? (
      <Loading what="Loading the plan" />
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
          title="Where the minutes come from"
          note="Those who learn take longer; see the settings."
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
        title={`Plan for ${sayDay(plan.planOn)}`}
        lede={
          <>
            <PlanStateBadge state={plan.state} /> {solved?.quality}
          </>
        }
        acts={
          <>
            {abilities.putInForce ? (
              <ConfirmInline
                act="Put in force"
                tone="lead"
                question={`${countOf(lines.length, 'bird')} will be claimed for the people named. Birds that somebody took meanwhile are named and left out.`}
                confirm="Put in force"
                keep="Not yet"
                onConfirm={() => act.mutateAsync({ act: 'in-force', body: { version: plan.version } })}
              />
            ) : null}
            {lines.length > 0 ? (
              <Button component={Link} href={paths.daySheets(plan.id)} variant="default">
                Sheets to print
              </Button>
            ) : null}
            {abilities.setAside ? (
              <ConfirmInline
                act="Set aside"
                tone="attention"
                question="The plan is kept for the record. Birds already claimed stay with their people."
                confirm="Set aside"
                onConfirm={() => act.mutateAsync({ act: 'set-aside', body: {} })}
              />
            ) : null}
          </>
        }
        figures={
          solved === null
            ? []
            : [
                { id: 'birds', label: 'Birds', value: given.length },
                { id: 'people', label: 'People', value: plan.people.length },
                {
                  id: 'work',
                  label: 'Work',
                  value: sayMinutes(given.reduce((sum, line) => sum + line.minutes, 0)),
                },
                {
                  id: 'done',
                  label: 'Prepared so far',
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
  const nameOf = (id: string) => plan.people.find(({ personId }) => personId === id)?.name ?? 'somebody';
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
      ? ['The solver failed; the failure was logged. Plan again, or tell an administrator.']
      : [];
  const blocking = [...failed, ...sentences];
  const notes = [
    ...dropped,
    ...refused.map((line) => `Not given to ${nameOf(line.personId)}: ${line.refused}`),
    ...idle.map(({ personId, reason }) => `${nameOf(personId)} has no bird: ${reason}`),
  ];
  return (
    <>
      {blocking.length > 0 ? (
        <Section id="why" title="Why there is no plan" note="Any one of these, changed, makes work possible.">
          <ul>
            {blocking.map((sentence) => (
              <li key={sentence}>{sentence}</li>
            ))}
          </ul>
        </Section>
      ) : null}
      {notes.length > 0 ? (
        <Section id="notes" title="Please note">
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
