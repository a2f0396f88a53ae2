'use client';

import { Button, Group, TextInput } from '@mantine/core';
import { type FormEvent, useState } from 'react';
import { ConfirmInline } from '@/components/ui/confirm-inline';
import { Fact, Facts, Section } from '@/components/ui/facts';
import { NotRecorded } from '@/components/ui/number-with-unit';
import { problemOf } from '@/components/ui/problem';
import { saveJson } from '@/components/ui/save-file';
import { phrases, say } from '@/lib/platform/words/say';
import type { SalvageRecord } from '@/lib/salvage/wire';
import type { FinderAnswer } from '@/lib/salvage/wire-finder';
import { useExportFinder, useLookUpFinder } from './finder-queries';
import type { FindAct } from './queries';
import classes from './salvage.module.css';

const STANDING: Record<SalvageRecord['finder'], string> = phrases({
  none: 'Nobody noted who found it.',
  'on-file': 'The finder is on file; who needs it can look.',
  erased: 'The finder’s name and contact data were erased at their request.',
  'one-of-us': 'Found by one of us.',
});

/** Who found it: for everybody that somebody did, the data only for those who need them and only when they look. */
export function FinderSection({ find, act }: { find: SalvageRecord; act: FindAct }) {
  const look = useLookUpFinder(find.id);
  const handOut = useExportFinder(find.id);
  const [changing, setChanging] = useState(false);
  const { abilities, version } = find;
  return (
    <Section
      id="finder"
      title={say('Finder')}
      note={say('Looking is noted in the history; what was seen is not.')}
      acts={
        <>
          {abilities.seeFinder && look.data === undefined ? (
            <Button variant="default" loading={look.isPending} onClick={() => look.mutate()}>
              {say('Show the finder')}
            </Button>
          ) : null}
          {abilities.seeFinder ? (
            <Button
              variant="default"
              loading={handOut.isPending}
              onClick={() =>
                handOut.mutate(undefined, {
                  onSuccess: (kept) => saveJson(`finder-${find.number}.json`, kept),
                })
              }
            >
              {say('Save all that is kept')}
            </Button>
          ) : null}
          {look.data !== undefined && !changing ? (
            <Button variant="default" onClick={() => setChanging(true)}>
              {say('Correct the data')}
            </Button>
          ) : null}
        </>
      }
    >
      <p>
        {find.finder === 'one-of-us' && find.finderPerson
          ? say('Found by {finderPerson}.', { finderPerson: find.finderPerson })
          : STANDING[find.finder]}
      </p>
      {handOut.error === null ? null : <p role="alert">{problemOf(handOut.error).title}</p>}
      {look.error === null ? null : <p role="alert">{problemOf(look.error).title}</p>}
      {look.data === undefined || changing || find.finder === 'erased' ? null : (
        <Facts>
          <Fact term={say('Name')}>{look.data.name ?? <NotRecorded />}</Fact>
          <Fact term={say('Telephone')}>{look.data.phone ?? <NotRecorded />}</Fact>
          <Fact term={say('E-mail')}>{look.data.email ?? <NotRecorded />}</Fact>
          <Fact term={say('Address')}>{look.data.address ?? <NotRecorded />}</Fact>
        </Facts>
      )}
      {changing && look.data !== undefined ? (
        <ContactForm
          find={find}
          finder={look.data}
          act={act}
          onDone={() => {
            setChanging(false);
            look.reset();
          }}
        />
      ) : null}
      {abilities.eraseFinder ? (
        <ConfirmInline
          act={say('Erase the finder’s data')}
          question={say(
            'Name and contact data are gone for good. The record, its custody and its verdict stay; the check cannot be repeated.',
          )}
          confirm={say('Erase them')}
          reason={{ label: say('How was it asked for?') }}
          onConfirm={async (reason) => {
            await act.mutateAsync({ act: 'finder/erase', body: { version, reason } });
            look.reset();
          }}
        />
      ) : null}
    </Section>
  );
}

const FIELDS = phrases([
  { name: 'name', label: 'Name' },
  { name: 'phone', label: 'Telephone' },
  { name: 'email', label: 'E-mail' },
  { name: 'address', label: 'Address' },
] as const);

function ContactForm({
  find,
  finder,
  act,
  onDone,
}: {
  find: SalvageRecord;
  finder: FinderAnswer;
  act: FindAct;
  onDone: () => void;
}) {
  const [fields, setFields] = useState({
    name: finder.name ?? '',
    phone: finder.phone ?? '',
    email: finder.email ?? '',
    address: finder.address ?? '',
  });
  const [reason, setReason] = useState('');
  const submit = (event: FormEvent) => {
    event.preventDefault();
    const contact = Object.fromEntries(
      Object.entries(fields).map(([name, value]) => [name, value.trim() || null]),
    );
    act.mutate(
      { act: 'finder/change', body: { version: find.version, reason, finder: contact } },
      { onSuccess: onDone },
    );
  };
  const problem = problemOf(act.error);
  return (
    <form onSubmit={submit} className={classes.acts}>
      {act.error === null ? null : <p role="alert">{problem.title}</p>}
      <div className={classes.row}>
        {FIELDS.map(({ name, label }) => (
          <TextInput
            key={name}
            label={label}
            autoComplete="off"
            value={fields[name]}
            error={problem.fields?.find(({ path }) => path === `finder.${name}`)?.message}
            onChange={(event) => setFields({ ...fields, [name]: event.currentTarget.value })}
          />
        ))}
      </div>
      <TextInput
        label={say('Why?')}
        required
        value={reason}
        onChange={(event) => setReason(event.currentTarget.value)}
      />
      <Group>
        <Button type="submit" loading={act.isPending}>
          {say('Save the data')}
        </Button>
        <Button variant="default" onClick={onDone}>
          {say('Leave as it was')}
        </Button>
      </Group>
    </form>
  );
}
