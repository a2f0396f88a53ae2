'use client';

import { Button, Group, Stack } from '@mantine/core';
import { ConfirmInline } from '@/components/ui/confirm-inline';
import { Section } from '@/components/ui/facts';
import { problemOf } from '@/components/ui/problem';
import { saveJson } from '@/components/ui/save-file';
import type { PersonRecord } from '@/lib/people/schema';
import { say } from '@/lib/platform/words/say';
import { useExportPerson, usePersonAct } from './queries';

/** What a person may ask for of their own data: a copy of all of it, and its erasure. */
export function PrivacySection({ person }: { person: PersonRecord }) {
  const handOut = useExportPerson(person.id);
  const act = usePersonAct(person.id);
  return (
    <Section
      id="privacy"
      title={say('Personal data')}
      note={say('Both are written into the history, with who did them.')}
    >
      <Stack gap="sm">
        <p>
          {person.erased
            ? say(
                'E-mail, sign-in data, wishes and notices were erased on request. The records of their work stay, and the name where it stands in them.',
              )
            : say('On request, give a copy of all that is kept of this person, or erase it.')}
        </p>
        <Group gap="sm" align="flex-start">
          <Button
            variant="default"
            loading={handOut.isPending}
            onClick={() =>
              handOut.mutate(undefined, { onSuccess: (kept) => saveJson(`person-${person.id}.json`, kept) })
            }
          >
            {say('Save all that is kept')}
          </Button>
          {person.erased ? null : (
            <ConfirmInline
              act={say('Erase the personal data')}
              question={say(
                'The account of {name} is closed for good; e-mail, sign-in data, second factor, wishes and notices are gone and cannot be brought back. The records of their work stay, and the name where it stands in them: the law asks for those.',
                { name: person.name },
              )}
              confirm={say('Erase them')}
              reason={{ label: say('How was it asked for?') }}
              busy={act.isPending}
              onConfirm={(reason) => act.mutateAsync({ act: 'erase', body: { reason } })}
            />
          )}
        </Group>
        {act.error === null ? null : <p role="alert">{problemOf(act.error).title}</p>}
        {handOut.error === null ? null : <p role="alert">{problemOf(handOut.error).title}</p>}
      </Stack>
    </Section>
  );
}
