'use client';

import { Button, Checkbox, Group, NativeSelect, NumberInput, Stack, TextInput } from '@mantine/core';
import { type FormEvent, useRef, useState } from 'react';
import { ErrorSummary, type FieldProblem } from '@/components/ui/error-summary';
import { fieldId } from '@/components/ui/field-id';
import { problemOf, problemsIn } from '@/components/ui/problem';
import { countOf, phrases, say, sayWord } from '@/lib/platform/words/say';
import { type PreservationKind, preservationKinds } from '@/lib/storage/schema';
import { type containerKinds, type TissueKind, tissueKinds, tissueOrigins } from '@/lib/tissues/schema';
import { type BirdVials, fillRequest } from '@/lib/tissues/wire';
import { AmountFields, readAmount, type TypedAmount } from './amount-fields';
import classes from './fill-form.module.css';
import { FillPlace, type FillPlaceValue } from './fill-place';
import { useFillVials } from './queries';

const OFTEN: readonly TissueKind[] = ['muscle', 'liver', 'heart', 'kidney'];
const CONTAINERS: Record<(typeof containerKinds)[number], string> = phrases({
  cryovial: 'Cryovial',
  'screw-cap-tube': 'Screw-cap tube',
  'snap-cap-tube': 'Snap-cap tube',
  'plate-well': 'Well of a plate',
  envelope: 'Envelope',
  card: 'Card',
  jar: 'Jar',
});
const noVolume = (kind: string) => kind === 'envelope' || kind === 'card';

type Draft = {
  tissues: TissueKind[];
  preservation: PreservationKind;
  ethanolPercent: string | number;
  container: keyof typeof CONTAINERS;
  volumeMl: string | number;
  amount: TypedAmount;
  code: string;
  place: FillPlaceValue | null;
};

const EMPTY: Draft = {
  tissues: [],
  preservation: 'frozen',
  ethanolPercent: 95,
  container: 'cryovial',
  volumeMl: 2,
  amount: { value: '', unit: 'mg' },
  code: '',
  place: null,
};

/** One line a vial; a further vial begins like the last, in another place. Everything is sent together. */
export function FillForm({ bird }: { bird: BirdVials }) {
  const fill = useFillVials(bird.birdId);
  const [drafts, setDrafts] = useState<Draft[]>([EMPTY]);
  const [origin, setOrigin] = useState<(typeof tissueOrigins)[number]>('salvaged');
  const [local, setLocal] = useState<FieldProblem[]>([]);
  const attempt = useRef(0);
  const key = useRef(crypto.randomUUID());
  const change = (at: number, part: Partial<Draft>) =>
    setDrafts((before) => before.map((draft, index) => (index === at ? { ...draft, ...part } : draft)));

  const submit = (event: FormEvent) => {
    event.preventDefault();
    attempt.current += 1;
    const body = { birdId: bird.birdId, origin, vials: drafts.map(toVial) };
    const parsed = fillRequest.safeParse(body);
    setLocal(parsed.success ? [] : problemsIn(parsed.error));
    if (!parsed.success) return;
    fill.mutate(
      { ...body, key: key.current },
      {
        onSettled: () => {
          key.current = crypto.randomUUID();
        },
      },
    );
  };
  const problem = problemOf(fill.error);
  const refused = problem.fields?.length
    ? problem.fields
    : [{ path: 'vials.0.tissues', message: problem.title ?? '' }];
  return (
    <form onSubmit={submit} noValidate className={classes.form}>
      <ErrorSummary
        problems={local.length > 0 ? local : fill.error === null ? [] : refused}
        attempt={attempt.current}
        title={say('Nothing was filled in yet:')}
      />
      {drafts.map((draft, at) => (
        <VialFields
          // biome-ignore lint/suspicious/noArrayIndexKey: the lines have no name but their place
          key={at}
          at={at}
          draft={draft}
          name={suffixAfter(bird.nextSuffix, at)}
          onChange={(part) => change(at, part)}
          onDrop={
            drafts.length === 1 ? undefined : () => setDrafts(drafts.filter((_, index) => index !== at))
          }
        />
      ))}
      <Group align="flex-end" mt="md">
        <NativeSelect
          label={say('The bird was')}
          data={tissueOrigins.map((value) => ({ value, label: sayWord(value) }))}
          value={origin}
          onChange={(event) => setOrigin(event.currentTarget.value as typeof origin)}
        />
        <Button
          variant="default"
          onClick={() => setDrafts([...drafts, { ...(drafts.at(-1) ?? EMPTY), code: '', place: null }])}
        >
          {say('One more vial')}
        </Button>
        <Button type="submit" loading={fill.isPending}>
          {say('Fill {of}', { of: countOf(drafts.length, 'vial') })}
        </Button>
      </Group>
      <p className={classes.note}>
        {say(
          'When the bird was found, frozen and thawed is taken from its record; sampled and preserved is now.',
        )}
      </p>
    </form>
  );
}

function toVial(draft: Draft) {
  return {
    tissues: draft.tissues,
    preservation: {
      kind: draft.preservation,
      ethanolPercent: draft.preservation === 'ethanol' ? Number(draft.ethanolPercent) : null,
    },
    container: {
      kind: draft.container,
      volumeMl: noVolume(draft.container) || draft.volumeMl === '' ? null : Number(draft.volumeMl),
    },
    amount: readAmount(draft.amount),
    code: draft.code.trim() || null,
    position:
      draft.place === null ? null : { unitId: draft.place.unitId, position: draft.place.position || null },
  };
}

/** T3 after T1 by two lines: what the vial will be called if nobody fills others meanwhile. */
function suffixAfter(first: string, by: number): string {
  const match = /^([A-Z]+)(\d+)$/.exec(first);
  return match === null ? first : `${match[1]}${Number(match[2]) + by}`;
}

function VialFields({
  at,
  draft,
  name,
  onChange,
  onDrop,
}: {
  at: number;
  draft: Draft;
  name: string;
  onChange: (part: Partial<Draft>) => void;
  onDrop?: () => void;
}) {
  const path = (field: string) => `vials.${at}.${field}`;
  const rest = tissueKinds.filter((kind) => !OFTEN.includes(kind) && !draft.tissues.includes(kind));
  const shown = [...OFTEN, ...draft.tissues.filter((kind) => !OFTEN.includes(kind))];
  return (
    <fieldset className={classes.vial}>
      <legend>{name}</legend>
      <Stack gap="sm">
        <Checkbox.Group
          id={fieldId(path('tissues'))}
          label={say('Tissue')}
          value={draft.tissues}
          onChange={(tissues) => onChange({ tissues: tissues as TissueKind[] })}
        >
          <Group mt={4}>
            {shown.map((kind) => (
              <Checkbox key={kind} value={kind} label={sayWord(kind)} />
            ))}
            <NativeSelect
              aria-label={say('Another tissue')}
              data={[
                { value: '', label: say('another…') },
                ...rest.map((value) => ({ value, label: sayWord(value) })),
              ]}
              value=""
              onChange={(event) =>
                onChange({ tissues: [...draft.tissues, event.currentTarget.value as TissueKind] })
              }
            />
          </Group>
        </Checkbox.Group>
        <Group align="flex-end">
          <NativeSelect
            label={say('Kept')}
            data={preservationKinds.map((value) => ({ value, label: sayWord(value) }))}
            value={draft.preservation}
            onChange={(event) =>
              onChange({ preservation: event.currentTarget.value as PreservationKind, place: null })
            }
          />
          {draft.preservation === 'ethanol' && (
            <NumberInput
              id={fieldId(path('preservation.ethanolPercent'))}
              label={say('Ethanol, in %')}
              min={1}
              max={100}
              w={120}
              value={draft.ethanolPercent}
              onChange={(ethanolPercent) => onChange({ ethanolPercent })}
            />
          )}
          <NativeSelect
            label={say('In')}
            data={Object.entries(CONTAINERS).map(([value, label]) => ({ value, label }))}
            value={draft.container}
            onChange={(event) => onChange({ container: event.currentTarget.value as Draft['container'] })}
          />
          {!noVolume(draft.container) && (
            <NumberInput
              label={say('Of, in ml')}
              min={0}
              step={0.5}
              w={96}
              value={draft.volumeMl}
              onChange={(volumeMl) => onChange({ volumeMl })}
            />
          )}
          <AmountFields
            label={say('Amount')}
            path={path('amount')}
            amount={draft.amount}
            onChange={(amount) => onChange({ amount })}
          />
        </Group>
        <FillPlace
          at={at}
          preservation={draft.preservation}
          place={draft.place}
          onChange={(place) => onChange({ place })}
        />
        <Group align="flex-end">
          <TextInput
            id={fieldId(path('code'))}
            label={say('Code on the tube')}
            description={say('Only where the tube has one already')}
            w={240}
            value={draft.code}
            onChange={(event) => onChange({ code: event.currentTarget.value })}
          />
          {onDrop && (
            <Button variant="subtle" onClick={onDrop}>
              {say('Leave this vial out')}
            </Button>
          )}
        </Group>
      </Stack>
    </fieldset>
  );
}
