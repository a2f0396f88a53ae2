'use client';

import { Button, Checkbox, Code, Stack, TextInput } from '@mantine/core';
import { type FormEvent, useState } from 'react';
import { ErrorSummary } from '@/components/ui/error-summary';
import { fieldId } from '@/components/ui/field-id';
import { problemOf, problemsIn } from '@/components/ui/problem';
import { WEBHOOK_STAGES, webhookRequest } from '@/lib/exchange/webhooks/schema';
import { say, sayWord } from '@/lib/platform/words/say';
import { useMakeWebhook } from './webhook-queries';

/** Registers an address and shows its secret once. */
export function WebhookForm() {
  const make = useMakeWebhook();
  const [stages, setStages] = useState<string[]>([]);
  const [local, setLocal] = useState<{ path: string; message: string }[]>([]);
  const submit = (event: FormEvent<HTMLFormElement>) => {
    event.preventDefault();
    const form = event.currentTarget;
    const parsed = webhookRequest.safeParse({ ...Object.fromEntries(new FormData(form)), stages });
    if (!parsed.success) {
      setLocal(problemsIn(parsed.error));
      return;
    }
    setLocal([]);
    make.mutate(parsed.data, {
      onSuccess: () => {
        form.reset();
        setStages([]);
      },
    });
  };
  const problem = problemOf(make.error);
  return (
    <form onSubmit={submit} noValidate>
      <Stack gap="md" maw={520}>
        <ErrorSummary
          problems={local.length > 0 ? local : (problem.fields ?? [])}
          title={local.length > 0 ? undefined : problem.title}
        />
        <TextInput id={fieldId('name')} name="name" label={say('Who is told')} required />
        <TextInput
          id={fieldId('address')}
          name="address"
          type="url"
          label={say('Address')}
          description={say('Begins with https:// and lies in the open internet.')}
          required
        />
        <Checkbox.Group
          id={fieldId('stages')}
          label={say('What it is told of')}
          value={stages}
          onChange={setStages}
        >
          <Stack gap="xs" mt="xs">
            {WEBHOOK_STAGES.map((stage) => (
              <Checkbox key={stage} value={stage} label={sayWord(stage)} />
            ))}
          </Stack>
        </Checkbox.Group>
        <div>
          <Button type="submit" loading={make.isPending}>
            {say('Register the address')}
          </Button>
        </div>
        {make.data === undefined ? null : (
          <div role="status">
            <p>{say('Copy the secret now: it is not shown again.')}</p>
            <Code block>{make.data.secret}</Code>
          </div>
        )}
      </Stack>
    </form>
  );
}
