'use client';

import { Button, Checkbox, Group, NativeSelect, Textarea, TextInput } from '@mantine/core';
import { useState } from 'react';
import { fieldId } from '@/components/ui/field-id';
import { newKey } from '@/components/ui/new-key';
import type { PermitClause } from '@/lib/permits/permit-schema';
import { clauseKinds, nameClause } from '@/lib/permits/rules/sentences';
import { specimenTypes, tagFields } from '@/lib/permits/schema';
import { phrases, say, sayWord } from '@/lib/platform/words/say';
import { CLAUSE_FIELDS, type ClauseDraft, newDraft } from './clause-drafts';
import classes from './permits.module.css';

const TICKS: Record<string, readonly string[]> = {
  types: specimenTypes,
  who: ['holder', 'sub-permittees', 'under-direct-control', 'anyone'],
  fields: tagFields,
};

const CHOICES: Record<string, readonly { value: string; label: string }[]> = phrases({
  year: [
    { value: 'calendar', label: 'Calendar year' },
    { value: 'fiscal', label: 'Year from another day' },
    { value: 'permit', label: 'Year of the permit' },
  ],
  rule: [
    { value: 'month-day', label: 'By a day of the year' },
    { value: 'days-after', label: 'So many days after its end' },
  ],
  isDisposition: [
    { value: 'no', label: 'No: a catalogued bird is still on hand' },
    { value: 'yes', label: 'Yes: cataloguing is its disposition' },
  ],
});
const AFTER: Record<string, readonly { value: string; label: string }[]> = phrases({
  'transfer-within-days': [
    { value: 'found', label: 'the day of finding' },
    { value: 'expiry', label: 'the permit expires' },
  ],
  'record-retention': [
    { value: 'expiry', label: 'the permit expires' },
    { value: 'acquisition', label: 'the bird is acquired' },
    { value: 'calendar-year', label: 'the end of the calendar year' },
  ],
});

const LABELS: Record<string, string> = phrases({
  taxa: 'Birds, one a line',
  contact: 'Whom to contact',
  types: 'Kinds of specimen',
  places: 'Places, one a line',
  maximum: 'At most',
  year: 'In a',
  startsOn: 'Year begins on (MM-DD)',
  who: 'Who may act',
  fields: 'What each tag says',
  days: 'Days',
  after: 'After',
  rule: 'Due',
  monthDay: 'Due by (MM-DD)',
  years: 'Years',
  isDisposition: 'Counts cataloguing as disposition',
  until: 'Grace until',
  renewalAppliedOn: 'Renewal asked for on',
});

const HELP: Record<string, string> = phrases({
  taxa: 'all, a scientific name, order: …, family: …, genus: …, or list: … (the id of an imported list)',
  places: 'US-OH for a state, or US-OH: Franklin, Delaware for counties in it',
});

type FieldProps = {
  draft: ClauseDraft;
  field: string;
  path: string;
  error: string | undefined;
  onChange: (draft: ClauseDraft) => void;
};

function ClauseField({ draft, field, path, error, onChange }: FieldProps) {
  const ticks = TICKS[field];
  const set = (value: string) => onChange({ ...draft, fields: { ...draft.fields, [field]: value } });
  const shared = { id: fieldId(path), label: LABELS[field], error, value: draft.fields[field] ?? '' };
  if (ticks !== undefined) {
    return (
      <Checkbox.Group
        id={fieldId(path)}
        className={classes.wide}
        label={LABELS[field]}
        error={error}
        value={draft.ticks}
        onChange={(value) => onChange({ ...draft, ticks: value })}
      >
        <Group mt={4}>
          {ticks.map((value) => (
            <Checkbox key={value} value={value} label={sayWord(value)} />
          ))}
        </Group>
      </Checkbox.Group>
    );
  }
  if (field === 'taxa' || field === 'places') {
    return (
      <Textarea
        {...shared}
        className={classes.wide}
        description={HELP[field]}
        autosize
        minRows={2}
        onChange={(event) => set(event.currentTarget.value)}
      />
    );
  }
  const choices = field === 'after' ? AFTER[draft.kind] : CHOICES[field];
  if (choices !== undefined) {
    return (
      <NativeSelect {...shared} data={[...choices]} onChange={(event) => set(event.currentTarget.value)} />
    );
  }
  const isDay = field === 'until' || field === 'renewalAppliedOn';
  return (
    <TextInput
      {...shared}
      type={isDay ? 'date' : 'text'}
      inputMode={['maximum', 'days', 'years'].includes(field) ? 'numeric' : undefined}
      onChange={(event) => set(event.currentTarget.value)}
    />
  );
}

/** Fields that only some answers of the same clause need. */
function isNeeded(draft: ClauseDraft, field: string): boolean {
  if (field === 'startsOn') return draft.fields.year === 'fiscal';
  if (draft.kind !== 'report-due') return true;
  if (field === 'days') return draft.fields.rule === 'days-after';
  return field !== 'monthDay' || draft.fields.rule === 'month-day';
}

/** Structured clauses: one card each, added by kind, taken out by a button. */
export function ClauseEditor({
  drafts,
  problems,
  onChange,
}: {
  drafts: readonly ClauseDraft[];
  problems: readonly { path: string; message: string }[];
  onChange: (drafts: ClauseDraft[]) => void;
}) {
  const [kind, setKind] = useState<PermitClause['kind']>('taxa-allowed');
  const errorAt = (path: string) =>
    problems.find((problem) => problem.path === path || problem.path.startsWith(`${path}.`))?.message;
  const replace = (index: number, draft: ClauseDraft) => onChange(drafts.toSpliced(index, 1, draft));
  return (
    <div className={classes.editor}>
      {drafts.map((draft, index) => {
        const at = `clauses.${index}`;
        return (
          <fieldset key={draft.key} className={classes.card}>
            <legend>{nameClause(draft.kind)}</legend>
            <div className={classes.row}>
              <TextInput
                id={fieldId(`${at}.id`)}
                label={say('Number in the document')}
                value={draft.id}
                error={errorAt(`${at}.id`)}
                onChange={(event) => replace(index, { ...draft, id: event.currentTarget.value })}
              />
              {CLAUSE_FIELDS[draft.kind]
                .filter((field) => isNeeded(draft, field))
                .map((field) => (
                  <ClauseField
                    key={field}
                    draft={draft}
                    field={field}
                    path={`${at}.${field}`}
                    error={errorAt(`${at}.${field}`)}
                    onChange={(next) => replace(index, next)}
                  />
                ))}
            </div>
            <Textarea
              label={say('Words of the document')}
              autosize
              value={draft.text}
              onChange={(event) => replace(index, { ...draft, text: event.currentTarget.value })}
            />
            <div>
              <Button variant="default" size="sm" onClick={() => onChange(drafts.toSpliced(index, 1))}>
                {say('Take this clause out')}
              </Button>
            </div>
          </fieldset>
        );
      })}
      <Group align="end">
        <NativeSelect
          label={say('Another clause')}
          data={clauseKinds.map((value) => ({ value, label: nameClause(value) }))}
          value={kind}
          onChange={(event) => setKind(event.currentTarget.value as PermitClause['kind'])}
        />
        <Button variant="default" onClick={() => onChange([...drafts, newDraft(kind, drafts, newKey())])}>
          {say('Add it')}
        </Button>
      </Group>
    </div>
  );
}
