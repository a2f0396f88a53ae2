'use client';

import { Button, Group, NativeSelect } from '@mantine/core';
import { useState } from 'react';
import { CountInput } from '@/components/ui/count-input';
import { Section } from '@/components/ui/facts';
import { problemOf, problemsIn } from '@/components/ui/problem';
import { countOf, say } from '@/lib/platform/words/say';
import { type DayPlanAnswer, type HandChange, type PlanInput, planInput } from '@/lib/queue/plan-wire';
import { GuestPicker } from './guest-picker';
import { usePlanAct } from './plan-queries';

const same = (a: unknown, b: unknown) => JSON.stringify(a) === JSON.stringify(b);

/** Other people, hours, places, and birds moved by hand: the plan is then made again around them. */
export function PlanChanges({ plan }: { plan: DayPlanAnswer }) {
  const act = usePlanAct(plan.id);
  const [seen, setSeen] = useState<PlanInput>(plan.input);
  const [draft, setDraft] = useState<PlanInput>(plan.input);
  const takeSaved = () => {
    setSeen(plan.input);
    setDraft(plan.input);
  };
  const parsed = planInput.safeParse(draft);
  const planAgain = () => {
    if (!parsed.success) return;
    act.mutate(
      { act: 'change', body: { ...parsed.data, version: plan.version } },
      { onSuccess: (saved) => setSeen(saved.input) },
    );
  };
  const overtaken = !same(seen, plan.input);
  const { benchPlaces, seconds, ...others } = Object.fromEntries(
    parsed.success ? [] : problemsIn(parsed.error).map(({ path, message }) => [path, message]),
  );
  return (
    <>
      <Section
        id="by-hand"
        title={say('By hand')}
        note={say('What you fix is kept; the rest is planned around it.')}
      >
        <HandChanges plan={plan} draft={draft} onChange={(patch) => setDraft({ ...draft, ...patch })} />
      </Section>
      <Section id="people" title={say('People and places')}>
        <Group mb="md">
          <CountInput
            label={say('Bench places')}
            min={1}
            max={200}
            value={draft.benchPlaces}
            error={benchPlaces}
            onChange={(value) => setDraft({ ...draft, benchPlaces: Number(value) })}
          />
          <CountInput
            label={say('At most, in seconds')}
            min={1}
            max={120}
            value={draft.seconds}
            error={seconds}
            onChange={(value) => setDraft({ ...draft, seconds: Number(value) })}
          />
        </Group>
        <GuestPicker guests={draft.people} onChange={(people) => setDraft({ ...draft, people })} />
        {overtaken ? (
          <p role="alert">
            {say('Somebody else changed this plan. Your changes are still here.')}{' '}
            <Button variant="default" onClick={takeSaved}>
              {say('Take over what is saved')}
            </Button>
          </p>
        ) : null}
        {Object.entries(others).map(([path, message]) => (
          <p key={path} role="alert">
            {message}
          </p>
        ))}
        {act.error === null ? null : <p role="alert">{problemOf(act.error).title}</p>}
        <Button mt="md" loading={act.isPending} disabled={!parsed.success || overtaken} onClick={planAgain}>
          {same(draft, plan.input) ? say('Plan again') : say('Plan again around these changes')}
        </Button>
      </Section>
    </>
  );
}

type HandProps = {
  plan: DayPlanAnswer;
  draft: PlanInput;
  onChange: (patch: Pick<PlanInput, 'fixed' | 'barred'>) => void;
};

function HandChanges({ plan, draft, onChange }: HandProps) {
  const [birdId, setBirdId] = useState(plan.lines[0]?.birdId ?? '');
  const [personId, setPersonId] = useState(plan.people[0]?.personId ?? '');
  const others = (list: readonly HandChange[], exact: boolean) =>
    list.filter((one) => one.birdId !== birdId || (exact && one.personId !== personId));
  const fix = () =>
    onChange({
      fixed: [...others(draft.fixed, false), { birdId, personId }],
      barred: others(draft.barred, true),
    });
  const bar = () =>
    onChange({
      fixed: others(draft.fixed, true),
      barred: [...others(draft.barred, true), { birdId, personId }],
    });
  const known = [...draft.fixed, ...draft.barred].length;
  if (plan.lines.length === 0 && known === 0)
    return <p>{say('Once there is a proposal, its birds can be moved here.')}</p>;
  return (
    <>
      {plan.lines.length > 0 ? (
        <Group align="flex-end">
          <NativeSelect
            label={say('Bird')}
            data={plan.lines.map((line) => ({ value: line.birdId, label: line.bird.number }))}
            value={birdId}
            onChange={(event) => setBirdId(event.currentTarget.value)}
          />
          <NativeSelect
            label={say('Person')}
            data={plan.people.map((person) => ({ value: person.personId, label: person.name }))}
            value={personId}
            onChange={(event) => setPersonId(event.currentTarget.value)}
          />
          <Button variant="default" onClick={fix}>
            {say('Give it to them')}
          </Button>
          <Button variant="default" onClick={bar}>
            {say('Not to them')}
          </Button>
        </Group>
      ) : null}
      {known === 0 ? null : <HandList plan={plan} draft={draft} onChange={onChange} />}
    </>
  );
}

function HandList({ plan, draft, onChange }: HandProps) {
  const without = (list: readonly HandChange[], change: HandChange) =>
    list.filter((one) => !same(one, change));
  const rows = [
    ...draft.fixed.map((change) => ({ change, words: say('goes to') })),
    ...draft.barred.map((change) => ({ change, words: say('does not go to') })),
  ];
  const bird = (id: string) =>
    plan.lines.find((line) => line.birdId === id)?.bird.number ?? say('A bird no longer in the plan');
  const person = (id: string) => plan.people.find((one) => one.personId === id)?.name ?? say('somebody');
  return (
    <ul aria-label={countOf(rows.length, 'change by hand', 'changes by hand')}>
      {rows.map(({ change, words }) => (
        <li key={`${words} ${change.birdId} ${change.personId}`}>
          {bird(change.birdId)} {words} {person(change.personId)}.{' '}
          <Button
            size="compact-sm"
            variant="subtle"
            onClick={() =>
              onChange({ fixed: without(draft.fixed, change), barred: without(draft.barred, change) })
            }
          >
            {say('Leave it open')}
          </Button>
        </li>
      ))}
    </ul>
  );
}
