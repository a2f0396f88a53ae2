'use client';

import { Button, Group, Radio, Stack, Textarea, TextInput } from '@mantine/core';
import { useRouter } from 'next/navigation';
import { useRef, useState } from 'react';
import { ErrorSummary } from '@/components/ui/error-summary';
import { Section } from '@/components/ui/facts';
import { fieldId } from '@/components/ui/field-id';
import { ListHead } from '@/components/ui/page-head';
import { problemOf, problemsIn } from '@/components/ui/problem';
import { askLoanRequest, type LoanKind } from '@/lib/loans/schema';
import type { Lendable } from '@/lib/loans/wire';
import { paths } from '@/lib/platform/paths';
import { countOf, say } from '@/lib/platform/words/say';
import { BorrowerChoice } from './borrower-choice';
import { MaterialChoice } from './material-choice';
import { useAskLoan } from './queries';

/** A request for a loan or a grant: who, what for, which materials. A curator decides on it. */
export function LoanForm({ today, birds }: { today: string; birds?: string }) {
  const router = useRouter();
  const ask = useAskLoan();
  const [kind, setKind] = useState<LoanKind>('loan');
  const [borrowerId, setBorrowerId] = useState('');
  const [purpose, setPurpose] = useState('');
  const [dueOn, setDueOn] = useState('');
  const [chosen, setChosen] = useState<Lendable[]>([]);
  const [local, setLocal] = useState<{ path: string; message: string }[]>([]);
  const attempt = useRef(0);
  const key = useRef(crypto.randomUUID());

  const save = () => {
    attempt.current += 1;
    const parsed = askLoanRequest.safeParse({
      kind,
      borrowerId,
      purpose,
      dueOn: dueOn || null,
      materialIds: chosen.map(({ id }) => id),
    });
    if (!parsed.success) {
      setLocal(problemsIn(parsed.error));
      return;
    }
    setLocal([]);
    ask.mutate(
      { ...parsed.data, key: key.current },
      {
        onSuccess: ({ id }) => router.push(paths.loan(id)),
        // A refused request did nothing: the next one is a new request.
        onError: () => {
          key.current = crypto.randomUUID();
        },
      },
    );
  };
  const problem = problemOf(ask.error);
  return (
    <>
      <ListHead
        title={say('New loan')}
        intro={say('The request gets a loan number when you save it; a curator decides.')}
      />
      <ErrorSummary
        problems={local.length > 0 ? local : (problem.fields ?? [])}
        title={local.length > 0 ? undefined : problem.title}
        attempt={attempt.current}
      />
      <Section id="who" title={say('Who and why')}>
        <Stack gap="md" maw={720}>
          <Radio.Group label={say('What kind')} value={kind} onChange={(value) => setKind(value as LoanKind)}>
            <Stack gap="xs" mt={4}>
              <Radio value="loan" label={say('A loan: everything comes back')} />
              <Radio value="grant" label={say('A grant of tissue: it may be used up')} />
            </Stack>
          </Radio.Group>
          <BorrowerChoice value={borrowerId} onChange={setBorrowerId} />
          <Textarea
            id={fieldId('purpose')}
            label={say('What it is for')}
            required
            autosize
            minRows={3}
            value={purpose}
            onChange={(event) => setPurpose(event.currentTarget.value)}
          />
          <TextInput
            id={fieldId('dueOn')}
            label={say('Wanted until')}
            type="date"
            min={today}
            value={dueOn}
            onChange={(event) => setDueOn(event.currentTarget.value)}
          />
        </Stack>
      </Section>
      <Section id="materialIds" title={say('Materials')} note={countOf(chosen.length, 'material')}>
        <MaterialChoice kind={kind} birds={birds} chosen={chosen} onChange={setChosen} />
      </Section>
      <Group mt="lg">
        <Button size="md" loading={ask.isPending} onClick={save}>
          {chosen.length === 0
            ? say('Ask for it')
            : say('Ask for {of}', { of: countOf(chosen.length, 'material') })}
        </Button>
      </Group>
    </>
  );
}
