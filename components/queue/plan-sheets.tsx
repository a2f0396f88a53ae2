'use client';

import { Button } from '@mantine/core';
import { useQuery } from '@tanstack/react-query';
import { CautionCard } from '@/components/ui/caution-card';
import { ErrorState } from '@/components/ui/error-state';
import { Loading } from '@/components/ui/loading';
import { RecordHead } from '@/components/ui/page-head';
import { TaxonName } from '@/components/ui/taxon-name';
import { paths } from '@/lib/platform/paths';
import { sayDay } from '@/lib/platform/say-dates';
import { say, sayWord } from '@/lib/platform/words/say';
import type { DayPlanAnswer, PlanLine } from '@/lib/queue/plan-wire';
import { sayMinutes, timeOf, toClock } from './minutes';
import classes from './plan.module.css';
import { PlanPull } from './plan-pull';
import { planOptions } from './plan-queries';
import { PlanStateBadge } from './plan-state';

/** A plan on paper: the pull list, then a sheet for each person. */
export function PlanSheets({ id }: { id: string }) {
  const { data: plan, error, refetch } = useQuery(planOptions(id));
  if (plan === undefined)
    return error === null ? (
      <Loading what={say('Loading the sheets')} />
    ) : (
      <ErrorState error={error} onRetry={refetch} />
    );
  return (
    <>
      <RecordHead
        number={plan.planOn}
        title={say('Sheets for {day}', { day: sayDay(plan.planOn) })}
        state={<PlanStateBadge state={plan.state} />}
        back={{ label: say('The plan'), href: paths.dayPlanOf(plan.id) }}
        acts={<Button onClick={() => window.print()}>{say('Print')}</Button>}
      />
      <div className={classes.sheet}>
        <PlanPull rounds={plan.pull} planOn={plan.planOn} />
      </div>
      {plan.people.map((person) => (
        <PersonSheet key={person.personId} plan={plan} person={person} />
      ))}
    </>
  );
}

function PersonSheet({ plan, person }: { plan: DayPlanAnswer; person: DayPlanAnswer['people'][number] }) {
  const own = plan.lines.filter((line) => line.personId === person.personId && line.refused === null);
  const result = plan.outcome.result;
  const pairs = result !== null && 'supervision' in result ? result.supervision : [];
  const nameOf = (id: string) => plan.people.find(({ personId }) => personId === id)?.name ?? say('somebody');
  const beside = pairs
    .filter((pair) => pair.personId === person.personId)
    .map((pair) => nameOf(pair.supervisorId));
  const trainees = pairs
    .filter((pair) => pair.supervisorId === person.personId)
    .map((pair) => nameOf(pair.personId));
  return (
    <section className={classes.sheet} aria-label={say('Sheet of {name}', { name: person.name })}>
      <h2>{person.name}</h2>
      <p>
        {sayDay(plan.planOn)}, {toClock(person.fromMinute)}–{toClock(person.untilMinute)}.
        {beside.length > 0 ? say(' Beside {beside}.', { beside: beside.join(', ') }) : ''}
        {trainees.length > 0 ? say(' Stands beside {trainees}.', { trainees: trainees.join(', ') }) : ''}
      </p>
      {own.length === 0 ? <p>{say('No bird this day.')}</p> : <SheetTable lines={own} />}
      <CautionCard title={say('Before you open a bag')} source={say('common practice, no published source')}>
        <p>
          {say(
            'Gloves and coat on, the area ventilated; no food at the bench. A bird that looks ill, shot or poisoned stays closed: ask the preparator first.',
          )}
        </p>
      </CautionCard>
    </section>
  );
}

function SheetTable({ lines }: { lines: readonly PlanLine[] }) {
  return (
    <table className={classes.table}>
      <thead>
        <tr>
          <th scope="col">{say('Time')}</th>
          <th scope="col">{say('Bird')}</th>
          <th scope="col">{say('Taxon')}</th>
          <th scope="col">{say('Where it lies')}</th>
          <th scope="col">{say('Preparation')}</th>
          <th scope="col">{say('Done')}</th>
        </tr>
      </thead>
      <tbody>
        {lines.map((line) => (
          <tr key={line.birdId}>
            <td>
              {timeOf(line.startAt)}–{timeOf(line.endAt)} ({sayMinutes(line.minutes)})
            </td>
            <th scope="row">{line.bird.number}</th>
            <td>
              <TaxonName scientific={line.bird.scientificName} common={line.bird.commonName} />
            </td>
            <td>{line.bird.place ?? say('no place noted')}</td>
            <td>
              {say('{word}, {word2}; condition {condition}', {
                word: line.bird.style === null ? say('not chosen') : sayWord(line.bird.style),
                word2: sayWord(line.bird.sizeClass).toLowerCase(),
                condition: line.bird.condition,
              })}
            </td>
            <td>
              <span className={classes.box} />
            </td>
          </tr>
        ))}
      </tbody>
    </table>
  );
}
