'use client';

import { Anchor, Button, Divider, PasswordInput, Stack, Text, TextInput } from '@mantine/core';
import { useRouter } from 'next/navigation';
import { signIn } from 'next-auth/react';
import { type FormEvent, useState } from 'react';
import { CODE_ASKED, ENROL_FIRST } from '@/lib/platform/identity/sign-in-words';
import { paths } from '@/lib/platform/paths';
import { say } from '@/lib/platform/words/say';

type Props = {
  institution: string | null;
  demo: { people: { email: string; name: string; roles: readonly string[] }[]; password: string } | null;
};

export function SignInForm({ institution, demo }: Props) {
  const router = useRouter();
  const [email, setEmail] = useState('');
  const [password, setPassword] = useState('');
  const [code, setCode] = useState<string | null>(null);
  const [problem, setProblem] = useState<string | null>(null);
  const [busy, setBusy] = useState(false);

  const submit = async (event: FormEvent) => {
    event.preventDefault();
    setBusy(true);
    setProblem(null);
    const answer = await signIn('credentials', {
      email,
      password,
      code: code ?? '',
      redirect: false,
    }).catch(() => undefined);
    setBusy(false);
    if (answer?.ok) {
      router.replace('/');
      router.refresh();
      return;
    }
    const said = answer?.error ?? null;
    if (said === CODE_ASKED) setCode('');
    else if (said?.startsWith(ENROL_FIRST))
      router.replace(paths.secondFactorSetUp(said.slice(ENROL_FIRST.length)));
    else if (said === null) setProblem(say('The server cannot be reached. Try again in a moment.'));
    else
      setProblem(
        said === 'CredentialsSignin' ? say('This e-mail and password do not belong together.') : said,
      );
  };

  return (
    <Stack gap="md" maw={380}>
      <form onSubmit={submit} method="post" aria-label={say('Sign in')}>
        <Stack gap="sm">
          <TextInput
            label={say('E-mail')}
            type="email"
            name="email"
            autoComplete="username"
            required
            value={email}
            onChange={(event) => setEmail(event.currentTarget.value)}
          />
          <PasswordInput
            label={say('Password')}
            name="password"
            autoComplete="current-password"
            required
            value={password}
            onChange={(event) => setPassword(event.currentTarget.value)}
          />
          {code === null ? null : (
            <TextInput
              label={say('Code of your app')}
              description={say('Or one of your recovery codes.')}
              name="code"
              autoComplete="one-time-code"
              inputMode="text"
              required
              autoFocus
              value={code}
              onChange={(event) => setCode(event.currentTarget.value)}
            />
          )}
          {problem === null ? null : (
            <Text role="alert" c="var(--f-stop)">
              {problem}
            </Text>
          )}
          <Button type="submit" loading={busy}>
            {say('Sign in')}
          </Button>
        </Stack>
      </form>
      {institution === null ? null : (
        <Button variant="default" onClick={() => void signIn('oidc', { callbackUrl: '/' })}>
          {say('Sign in with {institution}', { institution })}
        </Button>
      )}
      {demo === null ? null : (
        <DemoPeople
          demo={demo}
          choose={(chosen) => {
            setEmail(chosen);
            setPassword(demo.password);
          }}
        />
      )}
    </Stack>
  );
}

function DemoPeople({ demo, choose }: { demo: NonNullable<Props['demo']>; choose: (email: string) => void }) {
  return (
    <section aria-labelledby="demo-people">
      <Divider mb="sm" />
      <Text id="demo-people" fw={600}>
        {say('This is a demo: every person and bird here is invented.')}
      </Text>
      <Text size="sm" mb="xs">
        {say('Choose a person to fill in the form; the password is “{password}”.', {
          password: demo.password,
        })}
      </Text>
      <Stack gap={4}>
        {demo.people.map(({ email, name, roles }) => (
          <Anchor key={email} component="button" type="button" ta="left" onClick={() => choose(email)}>
            {name}, {roles.join(', ').replace('-', ' ')}
          </Anchor>
        ))}
      </Stack>
    </section>
  );
}
