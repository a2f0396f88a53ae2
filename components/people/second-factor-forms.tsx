'use client';

import { Anchor, Button, Code, PasswordInput, Stack, TextInput } from '@mantine/core';
import { useMutation } from '@tanstack/react-query';
import { useRouter } from 'next/navigation';
import { type FormEvent, useState } from 'react';
import { Link } from '@/components/ui/link';
import { problemOf } from '@/components/ui/problem';
import { sayWith } from '@/components/ui/say-with';
import { enrolmentLink, recoveryCodes } from '@/lib/people/schema';
import { callApi } from '@/lib/platform/api';
import { paths } from '@/lib/platform/paths';
import { say } from '@/lib/platform/words/say';

const failureOf = (error: Error | null, field: string): string | null => {
  if (error === null) return null;
  const problem = problemOf(error);
  return problem.fields?.find(({ path }) => path === field)?.message ?? problem.title ?? null;
};

/** One's own password again, then on to the page with the QR code. */
export function BeginSecondFactor() {
  const router = useRouter();
  const [password, setPassword] = useState('');
  const begin = useMutation({
    mutationFn: () =>
      callApi('/api/second-factor', { method: 'POST', body: { password }, schema: enrolmentLink }),
    onSuccess: ({ link }) => router.push(link),
  });
  const submit = (event: FormEvent) => {
    event.preventDefault();
    begin.mutate();
  };
  return (
    <form onSubmit={submit} aria-label={say('Set up a second factor')}>
      <Stack gap="md" maw={420}>
        <p>
          {say(
            'With a second factor, sign-in asks for a code that an app on your phone shows, so that a password alone opens nothing. Write your password to begin.',
          )}
        </p>
        <PasswordInput
          label={say('Password')}
          name="password"
          autoComplete="current-password"
          required
          value={password}
          error={failureOf(begin.error, 'password')}
          onChange={(event) => setPassword(event.currentTarget.value)}
        />
        <Button type="submit" loading={begin.isPending}>
          {say('Go on')}
        </Button>
      </Stack>
    </form>
  );
}

/** The QR code, the first code of the app, and then the recovery codes, which are shown this once. */
export function ConfirmSecondFactor({
  token,
  secret,
  picture,
}: {
  token: string;
  secret: string;
  picture: string;
}) {
  const [code, setCode] = useState('');
  const confirm = useMutation({
    mutationFn: () =>
      callApi('/api/set-up/second-factor', { method: 'POST', body: { token, code }, schema: recoveryCodes }),
  });
  if (confirm.data !== undefined) return <RecoveryCodes codes={confirm.data.codes} />;
  const submit = (event: FormEvent) => {
    event.preventDefault();
    confirm.mutate();
  };
  return (
    <form onSubmit={submit} aria-label={say('Confirm the second factor')}>
      <Stack gap="md" maw={420}>
        {/* biome-ignore lint/performance/noImgElement: a data address, nothing to optimise */}
        <img src={picture} alt={say('QR code of the key {secret}', { secret })} width={220} height={220} />
        <p>
          {sayWith('If it cannot be scanned, type this key into the app: {code}', {
            code: <Code>{secret.replace(/(.{4})(?=.)/g, '$1 ')}</Code>,
          })}
        </p>
        <TextInput
          label={say('The six figures that the app shows')}
          name="code"
          autoComplete="one-time-code"
          inputMode="numeric"
          required
          value={code}
          error={failureOf(confirm.error, 'code')}
          onChange={(event) => setCode(event.currentTarget.value)}
        />
        <Button type="submit" loading={confirm.isPending}>
          {say('Confirm')}
        </Button>
      </Stack>
    </form>
  );
}

function RecoveryCodes({ codes }: { codes: readonly string[] }) {
  return (
    <section aria-labelledby="recovery">
      <h2 id="recovery">{say('Your recovery codes')}</h2>
      <p role="status">
        {say(
          'The second factor is set up and you are signed out. Print these codes and keep them apart from the phone: each opens the door once when the phone is lost. They are not shown again.',
        )}
      </p>
      <ul>
        {codes.map((code) => (
          <li key={code}>
            <Code>{code}</Code>
          </li>
        ))}
      </ul>
      <Anchor component={Link} href={paths.signIn}>
        {say('Sign in')}
      </Anchor>
    </section>
  );
}
