'use client';

import { Button, Group, TextInput } from '@mantine/core';
import { useQuery } from '@tanstack/react-query';
import { useRouter } from 'next/navigation';
import { useRef, useState } from 'react';
import { CountInput } from '@/components/ui/count-input';
import { DataList } from '@/components/ui/data-list';
import { EmptyState } from '@/components/ui/empty-state';
import { ErrorSummary } from '@/components/ui/error-summary';
import { Section } from '@/components/ui/facts';
import { fieldId } from '@/components/ui/field-id';
import { whenSeen } from '@/components/ui/later';
import { ListHead } from '@/components/ui/page-head';
import { problemOf } from '@/components/ui/problem';
import { useListAddress } from '@/components/ui/use-list-address';
import { paths } from '@/lib/platform/paths';
import { sayDay } from '@/lib/platform/say-dates';
import { countOf, say } from '@/lib/platform/words/say';
import { type PlanGuest, type PlanSummary, planRequest } from '@/lib/queue/plan-wire';
import { planListOptions, useAskPlan } from './plan-queries';
import { PlanStateBadge } from './plan-state';

const GuestPicker = whenSeen(() => import('./guest-picker').then((module) => module.GuestPicker), 6);

/** Day plans, the latest first, and the form for a new one. */
export function PlanList(props: {
  query: { size: number; after?: string };
  today: string;
  benchPlaces: number;
  mayMake: boolean;
}) {
  const address = useListAddress();
  const list = useQuery(planListOptions(props.query));
  return (
    <>
      <ListHead
        title={say('Day plans')}
        intro={say(
          'Say who comes; the plan proposes who prepares what, honouring skills, supervision, hours and bench places.',
        )}
      />
      {props.mayMake ? <NewPlan today={props.today} benchPlaces={props.benchPlaces} /> : null}
      <Section id="plans" title={say('Plans')}>
        <DataList<PlanSummary>
          label={say('Day plans')}
          columns={[
            { id: 'day', head: say('Day'), cell: (row) => sayDay(row.planOn) },
            { id: 'state', head: say('State'), cell: (row) => <PlanStateBadge state={row.state} /> },
            { id: 'people', head: say('People'), numeric: true, cell: (row) => row.people },
            { id: 'birds', head: say('Birds'), numeric: true, cell: (row) => row.birds },
            { id: 'quality', head: say('How good'), deskOnly: true, cell: (row) => row.quality ?? '' },
          ]}
          rows={list.data?.rows}
          rowId={(row) => row.id}
          rowHref={(row) => paths.dayPlanOf(row.id)}
          loading={list.isFetching}
          error={list.error}
          onRetry={() => void list.refetch()}
          paging={address.paging(list.data?.next, props.query.size)}
          empty={<EmptyState title={say('No day has been planned yet')} />}
        />
      </Section>
    </>
  );
}

function NewPlan({ today, benchPlaces }: { today: string; benchPlaces: number }) {
  const router = useRouter();
  const ask = useAskPlan();
  const [planOn, setPlanOn] = useState(today);
  const [places, setPlaces] = useState<number | string>(benchPlaces);
  const [seconds, setSeconds] = useState<number | string>(10);
  const [guests, setGuests] = useState<PlanGuest[]>([]);
  const [local, setLocal] = useState<{ path: string; message: string }[]>([]);
  const attempt = useRef(0);
  const submit = () => {
    attempt.current += 1;
    const parsed = planRequest.safeParse({ planOn, people: guests, benchPlaces: places, seconds });
    setLocal(
      parsed.success
        ? []
        : parsed.error.issues.map(({ path, message }) => ({ path: String(path[0]), message })),
    );
    if (!parsed.success) return;
    ask.mutate(
      { ...parsed.data, key: crypto.randomUUID() },
      { onSuccess: (plan) => router.push(paths.dayPlanOf(plan.id)) },
    );
  };
  const refused = problemOf(ask.error);
  return (
    <Section
      id="new"
      title={say('Plan a day')}
      note={say('Nothing is taken from the queue until you put the plan in force.')}
    >
      <ErrorSummary problems={local} attempt={attempt.current} />
      {ask.error === null ? null : <p role="alert">{refused.title}</p>}
      <Group align="flex-end" mb="md">
        <TextInput
          id={fieldId('planOn')}
          label={say('Day')}
          type="date"
          value={planOn}
          onChange={(event) => setPlanOn(event.currentTarget.value)}
        />
        <CountInput
          id={fieldId('benchPlaces')}
          label={say('Bench places')}
          min={1}
          max={200}
          value={places}
          onChange={setPlaces}
        />
        <CountInput
          id={fieldId('seconds')}
          label={say('At most, in seconds')}
          min={1}
          max={120}
          value={seconds}
          onChange={setSeconds}
        />
      </Group>
      <div id={fieldId('people')} tabIndex={-1}>
        <GuestPicker guests={guests} onChange={setGuests} />
      </div>
      <Button mt="md" loading={ask.isPending} onClick={submit}>
        {guests.length === 0
          ? say('Plan the day')
          : say('Plan the day for {of}', { of: countOf(guests.length, 'person', 'people') })}
      </Button>
    </Section>
  );
}
