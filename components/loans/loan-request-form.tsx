'use client';

import { Button, Radio, Stack, Textarea, TextInput } from '@mantine/core';
import { type FormEvent, useRef, useState } from 'react';
import { ErrorSummary, type FieldProblem } from '@/components/ui/error-summary';
import { fieldId } from '@/components/ui/field-id';
import { newKey } from '@/components/ui/new-key';
import { loanLinkState, loanLinkUse } from '@/lib/loans/link-schema';
import type { LoanState } from '@/lib/loans/schema';
import { ApiProblem, callApi } from '@/lib/platform/api';
import { say } from '@/lib/platform/words/say';
import { RequestState } from './request-state';

const EMPTY = { contact: '', institution: '', email: '', country: '', purpose: '', wanted: '' };
type Fields = typeof EMPTY;

/** An outside borrower's form: who, what for, what and where to. No account, nothing of the collection. */
export function LoanRequestForm({ token }: { token: string }) {
  const key = useRef(newKey());
  const attempt = useRef(0);
  const [fields, setFields] = useState<Fields>(EMPTY);
  const [kind, setKind] = useState('loan');
  const [problems, setProblems] = useState<FieldProblem[]>([]);
  const [title, setTitle] = useState<string | undefined>();
  const [state, setState] = useState<LoanState | null>(null);
  const [busy, setBusy] = useState(false);

  const submit = async (event: FormEvent) => {
    event.preventDefault();
    attempt.current += 1;
    const { country, wanted, ...rest } = fields;
    const parsed = loanLinkUse.safeParse({
      ...rest,
      kind,
      requestKey: key.current,
      country: country.trim().toUpperCase(),
      wanted: wanted
        .split('\n')
        .map((line) => line.trim())
        .filter((line) => line !== ''),
    });
    if (!parsed.success) {
      setTitle(undefined);
      setProblems(parsed.error.issues.map(({ path, message }) => ({ path: String(path[0]), message })));
      return;
    }
    setBusy(true);
    try {
      const answer = await callApi(`/api/loan-request/${token}`, {
        method: 'POST',
        body: parsed.data,
        schema: loanLinkState,
      });
      setState(answer.state);
    } catch (error) {
      const problem = error instanceof ApiProblem ? error.problem : null;
      setTitle(problem?.title ?? say('Something went wrong. What you wrote is still here.'));
      setProblems(
        problem?.fields.length
          ? problem.fields
          : [{ path: 'contact', message: say('Nothing was sent yet.') }],
      );
    } finally {
      setBusy(false);
    }
  };

  if (state !== null) return <RequestState state={state} />;
  const field = (name: keyof Fields, label: string, more: object = {}) => ({
    id: fieldId(name),
    label,
    required: true,
    value: fields[name],
    error: problems.find(({ path }) => path === name)?.message,
    onChange: (event: { currentTarget: { value: string } }) =>
      setFields({ ...fields, [name]: event.currentTarget.value }),
    ...more,
  });
  return (
    <form onSubmit={(event) => void submit(event)} noValidate>
      <Stack gap="md" maw={640}>
        <ErrorSummary problems={problems} title={title} attempt={attempt.current} />
        <TextInput {...field('contact', say('Your name'), { autoComplete: 'name' })} />
        <TextInput {...field('institution', say('Your institution'), { autoComplete: 'organization' })} />
        <TextInput {...field('email', 'E-mail', { type: 'email', autoComplete: 'email' })} />
        <TextInput
          {...field('country', say('Country it would go to'), {
            description: say('Two letters, ISO 3166-1, for example US.'),
            maxLength: 2,
            w: 240,
          })}
        />
        <Radio.Group label={say('What kind')} value={kind} onChange={setKind}>
          <Stack gap="xs" mt={4}>
            <Radio value="loan" label={say('A loan: everything comes back')} />
            <Radio value="grant" label={say('A grant of tissue: it may be used up')} />
          </Stack>
        </Radio.Group>
        <Textarea
          {...field('purpose', say('What it is for'), { autosize: true, minRows: 3, maxLength: 4000 })}
        />
        <Textarea
          {...field('wanted', say('What you would like to borrow'), {
            description: say('Catalogue numbers, one a line.'),
            autosize: true,
            minRows: 4,
          })}
        />
        <div>
          <Button type="submit" size="md" loading={busy}>
            {say('Send the request')}
          </Button>
        </div>
      </Stack>
    </form>
  );
}
