'use client';

import { Button, SimpleGrid, Slider, Text } from '@mantine/core';
import { useQuery } from '@tanstack/react-query';
import { useState } from 'react';
import { CountInput } from '@/components/ui/count-input';
import { ErrorState } from '@/components/ui/error-state';
import { Section } from '@/components/ui/facts';
import { whenOpened } from '@/components/ui/later';
import { Loading } from '@/components/ui/loading';
import { ListHead } from '@/components/ui/page-head';
import { problemOf } from '@/components/ui/problem';
import { say, sayWord } from '@/lib/platform/words/say';
import { PRIORITY_COMPONENTS } from '@/lib/queue/schema';
import { type QueueChoices, queueChoices } from '@/lib/queue/settings-wire';
import { GROUPS, type Group } from './setting-words';
import { settingsOptions, useChangeSettings } from './settings-queries';

const WeightsPreview = whenOpened(
  () => import('./weights-preview').then((module) => module.WeightsPreview),
  4,
);

const same = (a: unknown, b: unknown) => JSON.stringify(a) === JSON.stringify(b);

/** Weights of the priority, claims, day plan and thaw lead times; what other weights would do shows before saving. */
export function QueueSettings() {
  const { data, error, refetch } = useQuery(settingsOptions());
  if (data === undefined)
    return error === null ? (
      <Loading what={say('Loading the settings')} />
    ) : (
      <ErrorState error={error} onRetry={refetch} />
    );
  return (
    <>
      <ListHead
        title={say('Queue settings')}
        intro={
          data.mayChange
            ? say(
                'How the queue decides which bird is next, how long claims last, and what the day plan reckons with.',
              )
            : say('Preparators and curators set these.')
        }
      />
      <SettingsForm saved={data.choices} mayChange={data.mayChange} />
    </>
  );
}

function SettingsForm({ saved, mayChange }: { saved: QueueChoices; mayChange: boolean }) {
  const change = useChangeSettings();
  const [seen, setSeen] = useState(saved);
  const [draft, setDraft] = useState(saved);
  const parsed = queueChoices.safeParse(draft);
  const overtaken = !same(seen, saved);
  const isChanged = !same(draft, saved);
  const take = (choices: QueueChoices) => {
    setSeen(choices);
    setDraft(choices);
  };
  const set = (group: keyof QueueChoices, name: string, value: number | string) =>
    setDraft({ ...draft, [group]: { ...draft[group], [name]: value === '' ? undefined : Number(value) } });
  const save = () => {
    if (parsed.success)
      change.mutate({ from: seen, to: parsed.data }, { onSuccess: ({ choices }) => take(choices) });
  };
  return (
    <>
      <Section
        id="weights"
        title={say('What counts')}
        note={say("0 leaves a part out, 10 counts it most. The parts of every bird's figure follow these.")}
      >
        <SimpleGrid cols={{ base: 1, sm: 2 }} spacing="lg">
          {PRIORITY_COMPONENTS.map((component) => (
            <div key={component}>
              <Text>
                {sayWord(component)}: <b>{draft.weights[component]}</b>
              </Text>
              <Slider
                min={0}
                max={10}
                step={0.5}
                thumbLabel={sayWord(component)}
                disabled={!mayChange}
                value={draft.weights[component]}
                onChange={(value) => set('weights', component, value)}
              />
            </div>
          ))}
        </SimpleGrid>
      </Section>
      {GROUPS.map((group) => (
        <FigureGroup key={group.key} group={group} draft={draft} disabled={!mayChange} onChange={set} />
      ))}
      {mayChange &&
      parsed.success &&
      (!same(draft.weights, saved.weights) || !same(draft.scales, saved.scales)) ? (
        <WeightsPreview proposal={{ weights: parsed.data.weights, scales: parsed.data.scales }} />
      ) : null}
      {overtaken ? (
        <p role="alert">
          {say('Somebody else saved these settings meanwhile. Yours are still here.')}{' '}
          <Button variant="default" onClick={() => take(saved)}>
            {say('Take over what is saved')}
          </Button>
        </p>
      ) : null}
      {parsed.success ? null : (
        <p role="alert">
          {parsed.error.issues
            .map((issue) => `${sayWord(issue.path.join(', '))}: ${issue.message}`)
            .join('; ')}
        </p>
      )}
      {change.error === null ? null : <p role="alert">{problemOf(change.error).title}</p>}
      {change.isSuccess && !isChanged ? (
        <p role="status">{say('Saved; the queue is ranked by it.')}</p>
      ) : null}
      {mayChange ? (
        <Button
          loading={change.isPending}
          disabled={!isChanged || overtaken || !parsed.success}
          onClick={save}
        >
          {say('Save and rank the queue')}
        </Button>
      ) : null}
    </>
  );
}

function FigureGroup(props: {
  group: Group;
  draft: QueueChoices;
  disabled: boolean;
  onChange: (group: keyof QueueChoices, name: string, value: number | string) => void;
}) {
  const { group, draft, disabled, onChange } = props;
  const values = draft[group.key] as Record<string, number | undefined>;
  return (
    <Section id={group.key} title={group.title} note={group.note}>
      <SimpleGrid cols={{ base: 1, sm: 2 }}>
        {group.figures.map((figure) => (
          <CountInput
            key={figure.name}
            label={figure.label}
            rightSection={figure.unit}
            rightSectionWidth={figure.unit === undefined ? undefined : 112}
            step={figure.step}
            disabled={disabled}
            value={values[figure.name] ?? ''}
            onChange={(value) => onChange(group.key, figure.name, value)}
          />
        ))}
      </SimpleGrid>
    </Section>
  );
}
