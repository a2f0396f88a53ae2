'use client';

import { Button, Checkbox, Group, Stack, TextInput } from '@mantine/core';
import { type FormEvent, useRef, useState } from 'react';
import { ConfirmInline } from '@/components/ui/confirm-inline';
import { ErrorSummary, type FieldProblem } from '@/components/ui/error-summary';
import { fieldId } from '@/components/ui/field-id';
import { problemOf } from '@/components/ui/problem';
import { say } from '@/lib/platform/words/say';
import { subSampleRequest, useRequest as takeRequest, type VialRecord } from '@/lib/tissues/wire';
import { AmountFields, readAmount, type TypedAmount } from './amount-fields';
import { useEndVial, useFindVial, useSubSample, useTakeFromVial } from './queries';

/** What one may do with a vial: take from it, divide it, note it as lost, used up or found. */
export function VialActs({ vial }: { vial: VialRecord }) {
  const { abilities } = vial;
  if (!abilities.use && !abilities.lose && !abilities.find) return null;
  return (
    <Stack gap="md" mb="lg">
      {abilities.use && vial.left !== null && <Taking vial={vial} />}
      {abilities.use && vial.left === null && (
        <p>{say('Its amount was never measured: measure it before taking from it.')}</p>
      )}
      <Group align="flex-start">
        {abilities.lose && <Ending vial={vial} act="lose" />}
        {abilities.use && <Ending vial={vial} act="use-up" />}
        {abilities.find && <Finding vial={vial} />}
      </Group>
    </Stack>
  );
}

const problemsOf = (error: unknown): FieldProblem[] => {
  if (error === null) return [];
  const problem = problemOf(error);
  return problem.fields?.length
    ? problem.fields
    : [{ path: 'amount', message: problem.title ?? say('Nothing was taken.') }];
};

/** Takes an amount for good, or into a vial of its own. */
function Taking({ vial }: { vial: VialRecord }) {
  const take = useTakeFromVial(vial.id);
  const divide = useSubSample(vial.id);
  const [amount, setAmount] = useState<TypedAmount>({ value: '', unit: vial.left?.unit ?? 'mg' });
  const [purpose, setPurpose] = useState('');
  const [thawed, setThawed] = useState(false);
  const [local, setLocal] = useState<FieldProblem[]>([]);
  const attempt = useRef(0);
  // A second press of one wish must not take twice.
  const key = useRef(crypto.randomUUID());

  const send = (act: 'take' | 'divide') => {
    attempt.current += 1;
    const wanted = { amount: readAmount(amount), purpose, thawed };
    const parsed = act === 'take' ? takeRequest.safeParse(wanted) : subSampleRequest.safeParse(wanted);
    setLocal(
      parsed.success
        ? []
        : parsed.error.issues.map((issue) => ({
            path: String(issue.path[0]),
            message: issue.path[0] === 'amount' ? say('Say how much, in figures.') : issue.message,
          })),
    );
    if (!parsed.success) return;
    const outcome = {
      onSuccess: () => {
        setAmount({ ...amount, value: '' });
        setPurpose('');
        setThawed(false);
      },
      onSettled: () => {
        key.current = crypto.randomUUID();
      },
    };
    if (act === 'take') take.mutate({ ...parsed.data, key: key.current }, outcome);
    else divide.mutate({ ...parsed.data, key: key.current }, outcome);
  };
  const submit = (event: FormEvent) => {
    event.preventDefault();
    send('take');
  };
  return (
    <form onSubmit={submit} noValidate>
      <Stack gap="sm" maw={720}>
        <ErrorSummary
          problems={local.length > 0 ? local : [...problemsOf(take.error), ...problemsOf(divide.error)]}
          attempt={attempt.current}
          title={say('Nothing was taken:')}
        />
        <Group align="flex-end">
          <AmountFields label={say('Take')} path="amount" amount={amount} onChange={setAmount} />
          <TextInput
            id={fieldId('purpose')}
            label={say('What for')}
            required
            style={{ flex: '1 1 240px' }}
            value={purpose}
            onChange={(event) => setPurpose(event.currentTarget.value)}
          />
        </Group>
        <Checkbox
          label={say('It thawed for this (counts as one more thaw)')}
          checked={thawed}
          onChange={(event) => setThawed(event.currentTarget.checked)}
        />
        <Group>
          <Button type="submit" loading={take.isPending}>
            {say('Take it for good')}
          </Button>
          <Button variant="default" loading={divide.isPending} onClick={() => send('divide')}>
            {say('Put it into a vial of its own')}
          </Button>
        </Group>
      </Stack>
    </form>
  );
}

function Ending({ vial, act }: { vial: VialRecord; act: 'lose' | 'use-up' }) {
  const end = useEndVial(vial.id);
  const words =
    act === 'lose'
      ? {
          act: say('Note it as lost'),
          question: say('{label} leaves its place until somebody finds it.', { label: vial.label }),
        }
      : {
          act: say('Note it as used up'),
          question: say('Nothing is left in {label}. This cannot be undone.', { label: vial.label }),
        };
  return (
    <div>
      {end.error !== null && <p role="alert">{problemOf(end.error).title}</p>}
      <ConfirmInline
        act={words.act}
        question={words.question}
        confirm={words.act}
        reason={{ label: say('Why') }}
        onConfirm={(reason) => end.mutateAsync({ act, reason })}
      />
    </div>
  );
}

function Finding({ vial }: { vial: VialRecord }) {
  const find = useFindVial(vial.id);
  return (
    <div>
      {find.error !== null && <p role="alert">{problemOf(find.error).title}</p>}
      <ConfirmInline
        act={say('It turned up')}
        question={say('It counts as found. Scan it into its place afterwards.')}
        confirm={say('Note it as found')}
        tone="lead"
        reason={{ label: say('Where it was') }}
        onConfirm={(reason) => find.mutateAsync({ reason })}
      />
    </div>
  );
}
