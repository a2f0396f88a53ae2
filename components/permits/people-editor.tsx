'use client';

import { Button, TextInput } from '@mantine/core';
import { fieldId } from '@/components/ui/field-id';
import { newKey } from '@/components/ui/new-key';
import type { PermitText } from '@/lib/permits/wire';
import { say } from '@/lib/platform/words/say';
import classes from './permits.module.css';

export type PersonDraft = {
  key: string;
  personId: string | null;
  name: string;
  fromOn: string;
  untilOn: string;
};

export const toPersonDraft = (person: PermitText['subPermittees'][number], key: string): PersonDraft => ({
  key,
  personId: person.personId,
  name: person.name,
  fromOn: person.fromOn,
  untilOn: person.untilOn ?? '',
});

export const fromPersonDraft = ({ personId, name, fromOn, untilOn }: PersonDraft) => ({
  personId,
  name,
  fromOn,
  untilOn: untilOn === '' ? null : untilOn,
});

/** Named sub-permittees with the days of each. */
export function PeopleEditor({
  people,
  fromOn,
  problems,
  onChange,
}: {
  people: readonly PersonDraft[];
  /** First day that a new name begins with. */
  fromOn: string;
  problems: readonly { path: string; message: string }[];
  onChange: (people: PersonDraft[]) => void;
}) {
  const errorAt = (path: string) => problems.find((problem) => problem.path === path)?.message;
  return (
    <div className={classes.editor}>
      {people.map((person, index) => {
        const at = `subPermittees.${index}`;
        const set = (change: Partial<PersonDraft>) =>
          onChange(people.toSpliced(index, 1, { ...person, ...change }));
        return (
          <fieldset key={person.key} className={classes.card}>
            <legend>{say('Sub-permittee {index}', { index: index + 1 })}</legend>
            <div className={classes.row}>
              <TextInput
                id={fieldId(`${at}.name`)}
                label={say('Name')}
                value={person.name}
                error={errorAt(`${at}.name`) ?? errorAt(at)}
                onChange={(event) => set({ name: event.currentTarget.value })}
              />
              <TextInput
                id={fieldId(`${at}.fromOn`)}
                label={say('From')}
                type="date"
                value={person.fromOn}
                error={errorAt(`${at}.fromOn`)}
                onChange={(event) => set({ fromOn: event.currentTarget.value })}
              />
              <TextInput
                id={fieldId(`${at}.untilOn`)}
                label={say('Until (empty: as long as the permit)')}
                type="date"
                value={person.untilOn}
                error={errorAt(`${at}.untilOn`)}
                onChange={(event) => set({ untilOn: event.currentTarget.value })}
              />
              <Button variant="default" onClick={() => onChange(people.toSpliced(index, 1))}>
                {say('Take out')}
              </Button>
            </div>
          </fieldset>
        );
      })}
      <div>
        <Button
          variant="default"
          onClick={() =>
            onChange([...people, { key: newKey(), personId: null, name: '', fromOn, untilOn: '' }])
          }
        >
          {say('Add a sub-permittee')}
        </Button>
      </div>
    </div>
  );
}
