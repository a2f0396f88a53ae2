'use client';

import { Button, Checkbox, Code, Stack, Text, TextInput } from '@mantine/core';
import { type FormEvent, useState } from 'react';
import { ErrorSummary } from '@/components/ui/error-summary';
import { fieldId } from '@/components/ui/field-id';
import { problemOf, problemsIn } from '@/components/ui/problem';
import { invitation } from '@/lib/people/schema';
import { ROLES } from '@/lib/platform/permissions';
import { say, sayWord } from '@/lib/platform/words/say';
import { useInvite } from './queries';

/** Name, e-mail and roles; the answer is a one-time link to hand over. */
export function InviteForm() {
  const invite = useInvite();
  const [roles, setRoles] = useState<string[]>(['volunteer']);
  const [local, setLocal] = useState<{ path: string; message: string }[]>([]);

  const submit = (event: FormEvent<HTMLFormElement>) => {
    event.preventDefault();
    const form = event.currentTarget;
    const parsed = invitation.safeParse({ ...Object.fromEntries(new FormData(form)), roles });
    if (!parsed.success) {
      setLocal(problemsIn(parsed.error));
      return;
    }
    setLocal([]);
    invite.mutate(parsed.data, { onSuccess: () => form.reset() });
  };

  const problem = problemOf(invite.error);
  const problems = local.length > 0 ? local : (problem.fields ?? []);
  return (
    <form onSubmit={submit} noValidate>
      <Stack gap="md" maw={520}>
        <ErrorSummary problems={problems} title={local.length > 0 ? undefined : problem.title} />
        {invite.error !== null && problems.length === 0 ? <p role="alert">{problem.title}</p> : null}
        <TextInput id={fieldId('name')} name="name" label={say('Name')} required autoComplete="off" />
        <TextInput
          id={fieldId('email')}
          name="email"
          type="email"
          label={say('E-mail')}
          required
          autoComplete="off"
        />
        <Checkbox.Group id={fieldId('roles')} label={say('Roles')} value={roles} onChange={setRoles}>
          <Stack gap="xs" mt="xs">
            {ROLES.map((role) => (
              <Checkbox key={role} value={role} label={sayWord(role)} />
            ))}
          </Stack>
        </Checkbox.Group>
        <div>
          <Button type="submit" loading={invite.isPending}>
            {say('Invite')}
          </Button>
        </div>
        {invite.data === undefined ? null : (
          <OneTimeLink link={invite.data.link} name={invite.data.person.name} />
        )}
      </Stack>
    </form>
  );
}

/** Shown once; the address is completed with where this page was opened. */
export function OneTimeLink({ link, name }: { link: string; name: string }) {
  return (
    <div role="status">
      <Text>{say('Give {name} this link. It works once and is not shown again.', { name })}</Text>
      <Code block>{`${window.location.origin}${link}`}</Code>
    </div>
  );
}
