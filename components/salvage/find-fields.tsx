'use client';

import { Button, Checkbox, Group, NativeSelect, Radio, Textarea, TextInput } from '@mantine/core';
import { fieldId } from '@/components/ui/field-id';
import { addDays } from '@/lib/permits/public-rules';
import { specimenTypes } from '@/lib/permits/schema';
import { sayDays } from '@/lib/platform/say-dates';
import { phrases, say, sayWord } from '@/lib/platform/words/say';
import { arrivalConditions, suspectedCauses } from '@/lib/salvage/schema';
import { type FindDraft, readDate } from './find-state';
import type { FieldsProps } from './place-fields';
import classes from './salvage.module.css';
import { TaxonPicker } from './taxon-picker';

const choices = (words: readonly string[]) => words.map((value) => ({ value, label: sayWord(value) }));

export function BirdFields({ draft, set, errorOf }: FieldsProps) {
  const counted = draft.specimenType !== 'whole-bird' && draft.specimenType !== 'part';
  return (
    <fieldset className={classes.group}>
      <legend>{say('The bird')}</legend>
      <TaxonPicker
        taxonId={draft.taxonId}
        words={draft.verbatimTaxon}
        error={errorOf('verbatimTaxon') ?? errorOf('taxonId')}
        onChange={set}
      />
      <div className={classes.row}>
        <NativeSelect
          id={fieldId('specimenType')}
          label={say('What there is of it')}
          data={choices(specimenTypes)}
          value={draft.specimenType}
          onChange={(event) => set({ specimenType: event.currentTarget.value })}
        />
        {counted || errorOf('quantity') !== undefined ? (
          <TextInput
            id={fieldId('quantity')}
            label={say('How many')}
            inputMode="numeric"
            value={draft.quantity}
            error={errorOf('quantity')}
            onChange={(event) => set({ quantity: event.currentTarget.value })}
          />
        ) : null}
        <NativeSelect
          id={fieldId('condition')}
          label={say('Condition')}
          data={choices(arrivalConditions)}
          value={draft.condition}
          onChange={(event) => set({ condition: event.currentTarget.value })}
        />
      </div>
      <div className={classes.row}>
        <TextInput
          id={fieldId('bandNumber')}
          label={say('Band or ring number')}
          description={say('If it wears one.')}
          value={draft.bandNumber}
          error={errorOf('bandNumber')}
          onChange={(event) => set({ bandNumber: event.currentTarget.value })}
        />
        {draft.bandNumber === '' ? null : (
          <NativeSelect
            label={say('A federal band?')}
            data={[
              { value: '', label: say('Not known') },
              { value: 'yes', label: say('Yes') },
              { value: 'no', label: say('No') },
            ]}
            value={draft.bandIsFederal}
            onChange={(event) => set({ bandIsFederal: event.currentTarget.value })}
          />
        )}
      </div>
    </fieldset>
  );
}

export function DateFields({ draft, set, errorOf, today }: FieldsProps & { today: string }) {
  const { interval, problem } = readDate(draft.date);
  const untouched = draft.date.trim() === '';
  return (
    <fieldset className={classes.group}>
      <legend>{say('When')}</legend>
      <TextInput
        id={fieldId('found.earliestOn')}
        label={say('Found on')}
        description={say('A day, a range or a month, in words or figures: 3–5 March 2026, 2026-03.')}
        required
        value={draft.date}
        error={(untouched ? undefined : (problem ?? undefined)) ?? errorOf('found')}
        onChange={(event) => set({ date: event.currentTarget.value })}
      />
      {interval === null ? null : (
        <p className={classes.quiet} role="status">
          {say('Read as {days}', { days: sayDays(interval.earliestOn, interval.latestOn) })}
        </p>
      )}
      <Group gap="xs">
        <Button type="button" variant="default" size="sm" onClick={() => set({ date: today })}>
          {say('Today')}
        </Button>
        <Button type="button" variant="default" size="sm" onClick={() => set({ date: addDays(today, -1) })}>
          {say('Yesterday')}
        </Button>
      </Group>
      <TextInput
        id={fieldId('receivedOn')}
        label={say('Came to us on')}
        type="date"
        max={today}
        value={draft.receivedOn}
        error={errorOf('receivedOn')}
        onChange={(event) => set({ receivedOn: event.currentTarget.value })}
      />
    </fieldset>
  );
}

export function CauseFields({ draft, set, errorOf }: FieldsProps) {
  return (
    <fieldset className={classes.group}>
      <legend>{say('How it was found')}</legend>
      <NativeSelect
        id={fieldId('cause')}
        label={say('Suspected cause')}
        data={choices(suspectedCauses)}
        value={draft.cause}
        onChange={(event) => set({ cause: event.currentTarget.value })}
      />
      <Textarea
        id={fieldId('circumstances')}
        label={say('Circumstances')}
        autosize
        minRows={2}
        value={draft.circumstances}
        error={errorOf('circumstances')}
        onChange={(event) => set({ circumstances: event.currentTarget.value })}
      />
      <Checkbox
        label={say('It looked ill, or shows signs of disease')}
        checked={draft.diseaseSigns}
        onChange={(event) => set({ diseaseSigns: event.currentTarget.checked })}
      />
      <Checkbox
        label={say('It may have been killed unlawfully')}
        checked={draft.suspectedIllegal}
        onChange={(event) => set({ suspectedIllegal: event.currentTarget.checked })}
      />
      {draft.diseaseSigns ? (
        <p className={classes.note} data-tone="attention">
          {say(
            'Gloves and mask; bag it twice, keep it apart, do not open it. It goes on hold. Local rules decide.',
          )}
        </p>
      ) : null}
      {draft.suspectedIllegal ? (
        <p className={classes.note} data-tone="attention">
          {say(
            'Possible evidence: touch nothing more than needed, note every hand. It goes on hold. Local rules decide.',
          )}
        </p>
      ) : null}
      <TextInput
        id={fieldId('facts.othersDead')}
        label={say('Other dead birds there that day, not brought in')}
        inputMode="numeric"
        value={draft.othersDead}
        error={errorOf('facts.othersDead')}
        onChange={(event) => set({ othersDead: event.currentTarget.value })}
      />
      <Textarea
        id={fieldId('remarks')}
        label={say('Remarks')}
        autosize
        value={draft.remarks}
        error={errorOf('remarks')}
        onChange={(event) => set({ remarks: event.currentTarget.value })}
      />
    </fieldset>
  );
}

const CONTACT = phrases([
  { name: 'finderName', path: 'finder.name', label: 'Name', type: 'text' },
  { name: 'finderPhone', path: 'finder.phone', label: 'Telephone', type: 'tel' },
  { name: 'finderEmail', path: 'finder.email', label: 'E-mail', type: 'email' },
  { name: 'finderAddress', path: 'finder.address', label: 'Address', type: 'text' },
] as const);

export function FinderFields({ draft, set, errorOf }: FieldsProps) {
  return (
    <fieldset className={classes.group}>
      <legend>{say('Who found it')}</legend>
      <Radio.Group
        aria-label={say('Who found it')}
        value={draft.finderIs}
        onChange={(value) => set({ finderIs: value as FindDraft['finderIs'] })}
      >
        <Group>
          <Radio value="me" label={say('I did')} />
          <Radio value="somebody" label={say('Somebody else')} />
          <Radio value="unknown" label={say('Nobody knows')} />
        </Group>
      </Radio.Group>
      {draft.finderIs === 'somebody' ? (
        <>
          <p className={classes.quiet}>
            {say(
              'Seen only by those who need it, in no report and no history, and erased when the finder asks.',
            )}
          </p>
          <div className={classes.row}>
            {CONTACT.map(({ name, path, label, type }) => (
              <TextInput
                key={name}
                id={fieldId(path)}
                label={label}
                type={type}
                autoComplete="off"
                value={draft[name]}
                error={errorOf(path)}
                onChange={(event) => set({ [name]: event.currentTarget.value })}
              />
            ))}
          </div>
          <NativeSelect
            label={say('Acting as')}
            data={[
              { value: 'public', label: say('A member of the public') },
              { value: 'under-direct-control', label: say('Staff or volunteer of the permit holder') },
              { value: 'agency', label: say('Staff of an agency') },
            ]}
            value={draft.finderRelation}
            onChange={(event) =>
              set({ finderRelation: event.currentTarget.value as FindDraft['finderRelation'] })
            }
          />
        </>
      ) : null}
    </fieldset>
  );
}
