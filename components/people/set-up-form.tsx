'use client';

import { Anchor, Button, NativeSelect, PasswordInput, Stack, TextInput } from '@mantine/core';
import { useMutation } from '@tanstack/react-query';
import { type FormEvent, useState } from 'react';
import { ErrorSummary } from '@/components/ui/error-summary';
import { fieldId } from '@/components/ui/field-id';
import { Link } from '@/components/ui/link';
import { problemOf, problemsIn } from '@/components/ui/problem';
import { sayWith } from '@/components/ui/say-with';
import { linkUse, linkUsed, MIN_PASSWORD, type Purpose } from '@/lib/people/schema';
import { callApi } from '@/lib/platform/api';
import { paths } from '@/lib/platform/paths';
import { say } from '@/lib/platform/words/say';

/** What stands behind a one-time link: a password for a person, or the founding of the collection. */
export function SetUpForm({
  token,
  purpose,
  zones,
}: {
  token: string;
  purpose: Purpose;
  zones: readonly string[];
}) {
  const founding = purpose === 'first-administrator';
  const [local, setLocal] = useState<{ path: string; message: string }[]>([]);
  const use = useMutation({
    mutationFn: (body: unknown) => callApi('/api/set-up', { method: 'POST', body, schema: linkUsed }),
  });

  const submit = (event: FormEvent<HTMLFormElement>) => {
    event.preventDefault();
    const given = Object.fromEntries(new FormData(event.currentTarget)) as Record<string, string>;
    const collection = { name: given.collectionName, code: given.code, timeZone: given.timeZone };
    const body = { token, password: given.password, name: given.name, email: given.email };
    const parsed = linkUse.safeParse(founding ? { ...body, collection } : body);
    const again =
      given.password === given.again
        ? []
        : [{ path: 'again', message: say('The two passwords are not the same.') }];
    const problems = parsed.success ? [] : problemsIn(parsed.error);
    setLocal([...problems, ...again]);
    if (parsed.success && again.length === 0) use.mutate(parsed.data);
  };

  if (use.data !== undefined) {
    return (
      <p role="status">
        {sayWith('Done. {anchor} as {email}.', {
          anchor: (
            <Anchor component={Link} href={paths.signIn}>
              {say('Sign in')}
            </Anchor>
          ),
          email: use.data.email,
        })}
      </p>
    );
  }
  const problem = problemOf(use.error);
  const problems = local.length > 0 ? local : (problem.fields ?? []);
  return (
    <form onSubmit={submit} noValidate>
      <Stack gap="md" maw={420}>
        <ErrorSummary problems={problems} title={local.length > 0 ? undefined : problem.title} />
        {use.error !== null && problems.length === 0 ? <p role="alert">{problem.title}</p> : null}
        {founding ? <Founding zones={zones} /> : null}
        <PasswordInput
          id={fieldId('password')}
          name="password"
          label={say('Password')}
          description={say('At least {minPassword} characters; a few words are easy to keep.', {
            minPassword: MIN_PASSWORD,
          })}
          autoComplete="new-password"
          required
        />
        <PasswordInput
          id={fieldId('again')}
          name="again"
          label={say('Password again')}
          autoComplete="new-password"
          required
        />
        <div>
          <Button type="submit" loading={use.isPending}>
            {founding ? say('Found the collection') : say('Set the password')}
          </Button>
        </div>
      </Stack>
    </form>
  );
}

function Founding({ zones }: { zones: readonly string[] }) {
  return (
    <>
      <TextInput id={fieldId('name')} name="name" label={say('Your name')} required autoComplete="name" />
      <TextInput
        id={fieldId('email')}
        name="email"
        type="email"
        label={say('Your e-mail')}
        required
        autoComplete="username"
      />
      <TextInput
        id={fieldId('collection.name')}
        name="collectionName"
        label={say('Name of the collection')}
        required
      />
      <TextInput
        id={fieldId('collection.code')}
        name="code"
        label={say('Its code')}
        description={say('Up to 12 capitals, figures and hyphens, as on your labels.')}
        required
      />
      <NativeSelect
        id={fieldId('collection.timeZone')}
        name="timeZone"
        label={say('Time zone')}
        data={['UTC', ...zones]}
      />
    </>
  );
}
