'use client';

import { MultiSelect, NativeSelect, TagsInput, TextInput } from '@mantine/core';
import { useEffect, useState } from 'react';
import { printBones, readBones } from '@/lib/catalogue/query/builder';
import { isoInterval, printInterval } from '@/lib/catalogue/query/dates';
import { BONE_SIDES, BONE_STATES } from '@/lib/catalogue/query/schema';
import { say, sayWord } from '@/lib/platform/words/say';
import classes from './builder.module.css';
import { BUILDER_FIELDS, boneChoices, type FieldName } from './builder-fields';

type ValueProps = { values: string[]; onChange: (values: string[]) => void };

/** Written text takes effect when one leaves the field or presses Enter, not with each letter. */
function Written({ label, example, values, onChange }: ValueProps & { label: string; example: string }) {
  const [text, setText] = useState(values[0] ?? '');
  useEffect(() => setText(values[0] ?? ''), [values]);
  const keep = () => {
    if (text.trim() !== (values[0] ?? '')) onChange(text.trim() === '' ? [] : [text.trim()]);
  };
  return (
    <TextInput
      aria-label={label}
      placeholder={example}
      value={text}
      maxLength={200}
      onChange={(event) => setText(event.currentTarget.value)}
      onBlur={keep}
      onKeyDown={(event) => {
        if (event.key === 'Enter') keep();
      }}
      className={classes.wide}
    />
  );
}

function Days({ label, values, onChange }: ValueProps & { label: string }) {
  const { from, to } = isoInterval(values[0] ?? '') ?? { from: null, to: null };
  const set = (days: { from: string | null; to: string | null }) =>
    onChange(days.from === null && days.to === null ? [] : [printInterval(days)]);
  return (
    <div className={classes.parts}>
      <TextInput
        type="date"
        aria-label={say('{label} from', { label })}
        value={from ?? ''}
        max={to ?? undefined}
        onChange={(event) => set({ from: event.currentTarget.value || null, to })}
      />
      <span>{say('to')}</span>
      <TextInput
        type="date"
        aria-label={say('{label} to', { label })}
        value={to ?? ''}
        min={from ?? undefined}
        onChange={(event) => set({ from, to: event.currentTarget.value || null })}
      />
    </div>
  );
}

const CLASSES = ['1', '2', '3', '4'];

function Quality({ values, onChange }: ValueProps) {
  const [least = '', most = least] = (values[0] ?? '').split('..');
  const set = (from: string, to: string) =>
    onChange(from === '' && to === '' ? [] : [`${from || to}..${to || from}`]);
  const choices = [{ value: '', label: '…' }, ...CLASSES.map((value) => ({ value, label: value }))];
  return (
    <div className={classes.parts}>
      <NativeSelect
        aria-label={say('Tissue quality from class')}
        data={choices}
        value={least}
        onChange={(event) => set(event.currentTarget.value, most)}
      />
      <span>{say('to')}</span>
      <NativeSelect
        aria-label={say('Tissue quality to class')}
        data={choices}
        value={most}
        onChange={(event) => set(least, event.currentTarget.value)}
      />
    </div>
  );
}

const orAny = (any: string, list: readonly string[]) => [
  { value: '', label: any },
  ...list.map((value) => ({ value, label: sayWord(value) })),
];

function Bones({ values, onChange }: ValueProps) {
  const bones = readBones(values[0]);
  const set = (changes: Partial<typeof bones>) => onChange([printBones({ ...bones, ...changes })]);
  return (
    <div className={classes.parts}>
      <MultiSelect
        aria-label={say('Bones, all in one material')}
        placeholder={bones.elements.length === 0 ? say('radius, ulna …') : undefined}
        data={boneChoices()}
        value={bones.elements}
        onChange={(elements) => set({ elements })}
        searchable
        hidePickedOptions
        className={classes.wide}
      />
      <NativeSelect
        aria-label={say('Side of the bones')}
        data={orAny(say('Any side'), BONE_SIDES)}
        value={bones.side}
        onChange={(event) => set({ side: event.currentTarget.value })}
      />
      <NativeSelect
        aria-label={say('State of the bones')}
        data={orAny(say('Any state'), BONE_STATES)}
        value={bones.state}
        onChange={(event) => set({ state: event.currentTarget.value })}
      />
    </div>
  );
}

/** What a condition asks of its field: the control that fits the field. */
export function BuilderValue({ field, values, onChange }: ValueProps & { field: FieldName }) {
  const { label, ask } = BUILDER_FIELDS[field];
  switch (ask.by) {
    case 'list':
      return (
        <MultiSelect
          aria-label={say('{label}: any of', { label })}
          placeholder={values.length === 0 ? say('any of …') : undefined}
          data={[...ask.choices]}
          // A word that the list does not know, as somebody wrote it in the box, stays.
          value={values}
          onChange={onChange}
          searchable
          hidePickedOptions
          className={classes.wide}
        />
      );
    case 'names':
      return (
        <TagsInput
          aria-label={say('{label}: any of', { label })}
          placeholder={values.length === 0 ? ask.example : undefined}
          data={[...ask.suggestions]}
          value={values}
          onChange={onChange}
          splitChars={[]}
          acceptValueOnBlur
          className={classes.wide}
        />
      );
    case 'text':
      return <Written label={label} example={ask.example} values={values} onChange={onChange} />;
    case 'days':
      return <Days label={label} values={values} onChange={onChange} />;
    case 'quality':
      return <Quality values={values} onChange={onChange} />;
    case 'bones':
      return <Bones values={values} onChange={onChange} />;
  }
}
