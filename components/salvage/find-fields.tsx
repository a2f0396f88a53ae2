'use client';

import { Button, Group } from '@mantine/core';
import { LongTextField, RadioField, SelectField, TextField, TickField } from '@/components/ui/plain-controls';
import { addDays } from '@/lib/permits/rules/dates';
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
        <SelectField
          name="specimenType"
          label={say('What there is of it')}
          options={choices(specimenTypes)}
          value={draft.specimenType}
          onChange={(value) => set({ specimenType: value })}
        />
        {counted || errorOf('quantity') !== undefined ? (
          <TextField
            name="quantity"
            label={say('How many')}
            inputMode="numeric"
            value={draft.quantity}
            error={errorOf('quantity')}
            onChange={(value) => set({ quantity: value })}
          />
        ) : null}
        <SelectField
          name="condition"
          label={say('Condition')}
          options={choices(arrivalConditions)}
          value={draft.condition}
          onChange={(value) => set({ condition: value })}
        />
      </div>
      <div className={classes.row}>
        <TextField
          name="bandNumber"
          label={say('Band or ring number')}
          help={say('If it wears one.')}
          value={draft.bandNumber}
          error={errorOf('bandNumber')}
          onChange={(value) => set({ bandNumber: value })}
        />
        {draft.bandNumber === '' ? null : (
          <SelectField
            label={say('A federal band?')}
            options={[
              { value: '', label: say('Not known') },
              { value: 'yes', label: say('Yes') },
              { value: 'no', label: say('No') },
            ]}
            value={draft.bandIsFederal}
            onChange={(value) => set({ bandIsFederal: value })}
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
      <TextField
        name="found.earliestOn"
        label={say('Found on')}
        help={say('A day, a range or a month, in words or figures: 3–5 March 2026, 2026-03.')}
        required
        value={draft.date}
        error={(untouched ? undefined : (problem ?? undefined)) ?? errorOf('found')}
        onChange={(value) => set({ date: value })}
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
      <TextField
        name="receivedOn"
        label={say('Came to us on')}
        type="date"
        max={today}
        value={draft.receivedOn}
        error={errorOf('receivedOn')}
        onChange={(value) => set({ receivedOn: value })}
      />
    </fieldset>
  );
}

export function CauseFields({ draft, set, errorOf }: FieldsProps) {
  return (
    <fieldset className={classes.group}>
      <legend>{say('How it was found')}</legend>
      <SelectField
        name="cause"
        label={say('Suspected cause')}
        options={choices(suspectedCauses)}
        value={draft.cause}
        onChange={(value) => set({ cause: value })}
      />
      <LongTextField
        name="circumstances"
        label={say('Circumstances')}
        value={draft.circumstances}
        error={errorOf('circumstances')}
        onChange={(value) => set({ circumstances: value })}
      />
      <TickField
        label={say('It looked ill, or shows signs of disease')}
        checked={draft.diseaseSigns}
        onChange={(checked) => set({ diseaseSigns: checked })}
      />
      <TickField
        label={say('It may have been killed unlawfully')}
        checked={draft.suspectedIllegal}
        onChange={(checked) => set({ suspectedIllegal: checked })}
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
      <TextField
        name="facts.othersDead"
        label={say('Other dead birds there that day, not brought in')}
        inputMode="numeric"
        value={draft.othersDead}
        error={errorOf('facts.othersDead')}
        onChange={(value) => set({ othersDead: value })}
      />
      <LongTextField
        name="remarks"
        label={say('Remarks')}
        value={draft.remarks}
        error={errorOf('remarks')}
        onChange={(value) => set({ remarks: value })}
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
      <RadioField
        label={say('Who found it')}
        value={draft.finderIs}
        options={[
          { value: 'me', label: say('I did') },
          { value: 'somebody', label: say('Somebody else') },
          { value: 'unknown', label: say('Nobody knows') },
        ]}
        onChange={(value) => set({ finderIs: value as FindDraft['finderIs'] })}
      />
      {draft.finderIs === 'somebody' ? (
        <>
          <p className={classes.quiet}>
            {say(
              'Seen only by those who need it, in no report and no history, and erased when the finder asks.',
            )}
          </p>
          <div className={classes.row}>
            {CONTACT.map(({ name, path, label, type }) => (
              <TextField
                key={name}
                name={path}
                label={label}
                type={type}
                autoComplete="off"
                value={draft[name]}
                error={errorOf(path)}
                onChange={(value) => set({ [name]: value })}
              />
            ))}
          </div>
          <SelectField
            label={say('Acting as')}
            options={[
              { value: 'public', label: say('A member of the public') },
              { value: 'under-direct-control', label: say('Staff or volunteer of the permit holder') },
              { value: 'agency', label: say('Staff of an agency') },
            ]}
            value={draft.finderRelation}
            onChange={(value) => set({ finderRelation: value as FindDraft['finderRelation'] })}
          />
        </>
      ) : null}
    </fieldset>
  );
}
