'use client';

import { Button, NativeSelect, Stack, Textarea, TextInput } from '@mantine/core';
import { type FormEvent, useRef, useState } from 'react';
import { ErrorSummary, type FieldProblem } from '@/components/ui/error-summary';
import { fieldId } from '@/components/ui/field-id';
import { problemOf } from '@/components/ui/problem';
import { say, sayWord } from '@/lib/platform/words/say';
import { tissueOrigins } from '@/lib/tissues/schema';
import { changeVialRequest, type VialRecord } from '@/lib/tissues/wire';
import { AmountFields, readAmount, type TypedAmount } from './amount-fields';
import { useChangeVial } from './queries';

/** What is measured or corrected, with the reason. */
export function VialChangeForm({ vial, onDone }: { vial: VialRecord; onDone: () => void }) {
  const change = useChangeVial(vial.id);
  const [amount, setAmount] = useState<TypedAmount>({ value: '', unit: 'mg' });
  const [dnaYield, setDnaYield] = useState(vial.dnaYieldUg?.toString() ?? '');
  const [local, setLocal] = useState<FieldProblem[]>([]);
  const attempt = useRef(0);
  const submit = (event: FormEvent<HTMLFormElement>) => {
    event.preventDefault();
    attempt.current += 1;
    const form = new FormData(event.currentTarget);
    const parsed = changeVialRequest.safeParse({
      version: vial.version,
      reason: form.get('reason'),
      amount: readAmount(amount) ?? undefined,
      dnaYieldUg: dnaYield.trim() === '' ? null : Number(dnaYield.replace(',', '.')),
      origin: form.get('origin'),
      remarks: form.get('remarks') || null,
    });
    setLocal(
      parsed.success
        ? []
        : parsed.error.issues.map(({ path, message }) => ({ path: String(path[0]), message })),
    );
    if (parsed.success) change.mutate(parsed.data, { onSuccess: onDone });
  };
  const problem = problemOf(change.error);
  const refused = problem.fields?.length
    ? problem.fields
    : [{ path: 'reason', message: problem.title ?? '' }];
  return (
    <form onSubmit={submit} noValidate>
      <Stack gap="sm">
        <ErrorSummary
          problems={local.length > 0 ? local : change.error === null ? [] : refused}
          attempt={attempt.current}
          title={say('Nothing was saved:')}
        />
        {vial.amount === null && (
          <AmountFields label={say('Amount')} path="amount" amount={amount} onChange={setAmount} />
        )}
        <TextInput
          id={fieldId('dnaYieldUg')}
          label={say('Yield of DNA, in µg')}
          inputMode="decimal"
          w={200}
          value={dnaYield}
          onChange={(event) => setDnaYield(event.currentTarget.value)}
        />
        <NativeSelect
          name="origin"
          label={say('The bird was')}
          data={tissueOrigins.map((value) => ({ value, label: sayWord(value) }))}
          defaultValue={vial.origin}
          w={200}
        />
        <Textarea name="remarks" label={say('Remarks')} autosize defaultValue={vial.remarks ?? ''} />
        <TextInput id={fieldId('reason')} name="reason" label={say('Why it is changed')} required />
        <div>
          <Button type="submit" loading={change.isPending} mr="sm">
            {say('Save')}
          </Button>
          <Button variant="default" onClick={onDone}>
            {say('Leave as it was')}
          </Button>
        </div>
      </Stack>
    </form>
  );
}
