'use client';

import { Button, Checkbox, Group, Stack } from '@mantine/core';
import { useQuery } from '@tanstack/react-query';
import { useState } from 'react';
import { RecordHistory } from '@/components/audit/record-history';
import { ConfirmInline } from '@/components/ui/confirm-inline';
import { ErrorState } from '@/components/ui/error-state';
import { Fact, Facts, Section } from '@/components/ui/facts';
import { Loading } from '@/components/ui/loading';
import { Moment } from '@/components/ui/moment';
import { RecordHead } from '@/components/ui/page-head';
import { problemOf } from '@/components/ui/problem';
import type { PersonRecord } from '@/lib/people/schema';
import { paths } from '@/lib/platform/paths';
import { ROLES, type Role } from '@/lib/platform/permissions';
import { say, sayWord } from '@/lib/platform/words/say';
import { OneTimeLink } from './invite-form';
import { AccountState } from './people-list';
import { PrivacySection } from './privacy-section';
import { personOptions, usePersonAct, useResetLink } from './queries';

/** One person's account: roles, sessions, password link, and what was changed. */
export function PersonPage({ id }: { id: string }) {
  const record = useQuery(personOptions(id));
  if (record.error)
    return (
      <ErrorState
        what={say('This person could not be loaded.')}
        error={record.error}
        onRetry={() => void record.refetch()}
      />
    );
  if (record.data === undefined) return <Loading what={say('Loading the person')} lines={4} />;
  const person = record.data;
  return (
    <>
      <RecordHead
        number={person.erased ? say('erased') : person.email}
        title={person.name}
        state={<AccountState person={person} />}
        back={{ label: say('People'), href: paths.people }}
      />
      <Section id="account" title={say('Account')}>
        <Facts>
          <Fact term={say('Roles')}>{person.roles.map(sayWord).join(', ')}</Fact>
          <Fact term={say('Last sign-in')}>
            {person.lastSignInAt === null ? say('never') : <Moment at={person.lastSignInAt} />}
          </Fact>
          <Fact term={say('Second factor')}>
            {person.secondFactor ? say('a code of an app is asked at sign-in') : say('none')}
          </Fact>
        </Facts>
        {person.erased ? null : <AccountActs person={person} />}
      </Section>
      {person.erased ? null : (
        <Section id="roles" title={say('Roles')}>
          <RolesForm key={person.version + person.roles.join()} person={person} />
        </Section>
      )}
      <PrivacySection person={person} />
      <Section id="history" title={say('History')}>
        <RecordHistory subject={{ subjectType: 'person', subjectId: id }} />
      </Section>
    </>
  );
}

function AccountActs({ person }: { person: PersonRecord }) {
  const act = usePersonAct(person.id);
  const reset = useResetLink(person.id);
  return (
    <Stack gap="sm" mt="md">
      <Group gap="sm" align="flex-start">
        <Button variant="default" loading={reset.isPending} onClick={() => reset.mutate()}>
          {say('Make a password link')}
        </Button>
        <Button
          variant="default"
          loading={act.isPending}
          onClick={() => act.mutate({ act: 'end-sessions', body: {} })}
        >
          {say('End all sessions')}
        </Button>
        {person.secondFactor ? (
          <ConfirmInline
            act={say('Reset the second factor')}
            question={say(
              '{name} is signed out everywhere and signs in with the password alone until a new one is set up. Be sure that it is {name} who asks.',
              { name: person.name },
            )}
            confirm={say('Reset it')}
            reason={{ label: say('Why?') }}
            busy={act.isPending}
            onConfirm={(reason) => act.mutateAsync({ act: 'reset-second-factor', body: { reason } })}
          />
        ) : null}
        <ConfirmInline
          act={person.active ? say('Close the account') : say('Open the account again')}
          question={
            person.active
              ? say('{name} is signed out everywhere and cannot sign in. Their work stays.', {
                  name: person.name,
                })
              : say('{name} can sign in again with the roles above.', { name: person.name })
          }
          confirm={person.active ? say('Close it') : say('Open it')}
          reason={{ label: say('Why?') }}
          busy={act.isPending}
          onConfirm={(reason) => act.mutateAsync({ act: 'active', body: { active: !person.active, reason } })}
        />
      </Group>
      {act.error === null ? null : <p role="alert">{problemOf(act.error).title}</p>}
      {reset.error === null ? null : <p role="alert">{problemOf(reset.error).title}</p>}
      {reset.data === undefined ? null : <OneTimeLink link={reset.data.link} name={person.name} />}
    </Stack>
  );
}

function RolesForm({ person }: { person: PersonRecord }) {
  const act = usePersonAct(person.id);
  const [roles, setRoles] = useState<string[]>(person.roles);
  return (
    <Stack gap="md">
      <Checkbox.Group label={say('May work as')} value={roles} onChange={setRoles}>
        <Stack gap="xs" mt="xs">
          {ROLES.map((role) => (
            <Checkbox key={role} value={role} label={sayWord(role)} />
          ))}
        </Stack>
      </Checkbox.Group>
      {act.error === null ? null : <p role="alert">{problemOf(act.error).title}</p>}
      <ConfirmInline
        act={say('Change the roles')}
        question={say('{name} will be: {roles}. It takes effect at once.', {
          name: person.name,
          roles: roles.map(sayWord).join(', ') || say('nothing'),
        })}
        confirm={say('Change them')}
        reason={{ label: say('Why?') }}
        busy={act.isPending}
        disabled={[...roles].sort().join() === [...person.roles].sort().join()}
        onConfirm={(reason) => act.mutateAsync({ act: 'roles', body: { roles: roles as Role[], reason } })}
      />
    </Stack>
  );
}
