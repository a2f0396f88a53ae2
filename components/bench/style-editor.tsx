'use client';

import { Button, Checkbox, MultiSelect, NumberInput, Textarea, TextInput } from '@mantine/core';
import { type FormEvent, useState } from 'react';
import { CAUTIONS } from '@/lib/bench/cautions';
import { FIELDS, listSections } from '@/lib/bench/fields';
import { MATERIAL_KINDS, type MaterialKind } from '@/lib/bench/schema';
import type { PreparationStyle, StyleStep } from '@/lib/bench/styles';
import { say, sayWord } from '@/lib/platform/words/say';
import classes from './lab.module.css';
import { useLabAct } from './lab-queries';
import { Problems } from './problems';

const fieldChoices = () =>
  listSections().map(({ label, fields }) => ({
    group: label,
    items: fields.map((field) => ({ value: field, label: FIELDS[field].label })),
  }));

const KINDS = MATERIAL_KINDS.filter((kind) => kind !== 'carcass');

/** A name for a new step that no other step of the style has. */
function nameStep(label: string, taken: readonly string[]): string {
  const stem =
    label
      .toLowerCase()
      .replace(/[^a-z0-9]+/g, '-')
      .replace(/^-+|-+$/g, '')
      .replace(/^(?=\d)/, 'step-') || 'step';
  let name = stem;
  for (let count = 2; taken.includes(name); count += 1) name = `${stem}-${count}`;
  return name;
}

/** The steps and products of one style. Saving makes the next version. */
export function StyleEditor({
  style,
  mayChange,
  onSaved,
}: {
  style: PreparationStyle;
  mayChange: boolean;
  onSaved: () => void;
}) {
  const act = useLabAct();
  const [draft, setDraft] = useState(style);
  const [added, setAdded] = useState('');
  const { steps } = draft;
  const setSteps = (next: StyleStep[]) => setDraft({ ...draft, steps: next });
  const changeStep = (id: string, part: Partial<StyleStep>) =>
    setSteps(steps.map((step) => (step.id === id ? { ...step, ...part } : step)));
  const moveStep = (at: number, by: number) => {
    const next = steps.toSpliced(at, 1);
    const moved = steps[at];
    if (moved !== undefined) setSteps(next.toSpliced(at + by, 0, moved));
  };
  const addStep = () => {
    const label = added.trim();
    if (label === '') return;
    const id = nameStep(
      label,
      steps.map((step) => step.id),
    );
    setSteps([...steps, { id, label, detail: '', cautions: [], fields: [] }]);
    setAdded('');
  };
  const setProduct = (kind: MaterialKind, part: { least?: number; usual?: number }) => {
    const before = draft.products.find((product) => product.kind === kind) ?? { kind, least: 0, usual: 0 };
    const after = { ...before, ...part };
    const products = KINDS.flatMap((one) =>
      one === kind ? [after] : draft.products.filter((product) => product.kind === one),
    ).filter(({ least, usual }) => least > 0 || usual > 0);
    setDraft({ ...draft, products });
  };
  const submit = (event: FormEvent) => {
    event.preventDefault();
    act.mutate({ method: 'POST', path: '/styles', body: { style: draft } }, { onSuccess: onSaved });
  };
  return (
    <form className={classes.editor} onSubmit={submit}>
      <fieldset disabled={!mayChange} className={classes.plain}>
        <TextInput
          label={say('Name')}
          required
          value={draft.label}
          onChange={(event) => setDraft({ ...draft, label: event.currentTarget.value })}
        />
        <h4>{say('What comes of the bird')}</h4>
        {KINDS.map((kind) => {
          const product = draft.products.find((one) => one.kind === kind);
          return (
            <div key={kind} className={classes.product}>
              <span>{sayWord(kind)}</span>
              <NumberInput
                label={say('{word}, at least', { word: sayWord(kind) })}
                min={0}
                max={9}
                value={product?.least ?? 0}
                onChange={(value) => setProduct(kind, { least: Number(value) || 0 })}
              />
              <NumberInput
                label={say('{word}, usually', { word: sayWord(kind) })}
                min={0}
                max={9}
                value={product?.usual ?? 0}
                onChange={(value) => setProduct(kind, { usual: Number(value) || 0 })}
              />
            </div>
          );
        })}
        <h4>{say('Steps in the order of the work')}</h4>
        <ol className={classes.steps}>
          {steps.map((step, at) => (
            <li key={step.id}>
              <TextInput
                label={say('Step')}
                aria-label={say('Step {at}', { at: at + 1 })}
                required
                value={step.label}
                onChange={(event) => changeStep(step.id, { label: event.currentTarget.value })}
              />
              <Textarea
                label={say('How')}
                aria-label={say('How: {label}', { label: step.label })}
                autosize
                value={step.detail}
                onChange={(event) => changeStep(step.id, { detail: event.currentTarget.value })}
              />
              <MultiSelect
                label={say('Written in this step')}
                aria-label={say('Written in this step: {label}', { label: step.label })}
                placeholder={step.fields.length === 0 ? say('Choose fields') : undefined}
                data={fieldChoices()}
                searchable
                value={step.fields}
                onChange={(fields) => changeStep(step.id, { fields: fields as StyleStep['fields'] })}
              />
              <details>
                <summary>
                  {say('Cautions: {length}', {
                    length: CAUTIONS.filter(({ id }) => step.cautions.includes(id)).length || 'none',
                  })}
                </summary>
                {CAUTIONS.map(({ id, title }) => (
                  <Checkbox
                    key={id}
                    label={title}
                    checked={step.cautions.includes(id)}
                    onChange={(event) =>
                      changeStep(step.id, {
                        cautions: event.currentTarget.checked
                          ? [...step.cautions, id]
                          : step.cautions.filter((one) => one !== id),
                      })
                    }
                  />
                ))}
              </details>
              {mayChange && (
                <div className={classes.acts}>
                  <Button variant="default" disabled={at === 0} onClick={() => moveStep(at, -1)}>
                    {say('Earlier')}
                  </Button>
                  <Button
                    variant="default"
                    disabled={at === steps.length - 1}
                    onClick={() => moveStep(at, 1)}
                  >
                    {say('Later')}
                  </Button>
                  <Button
                    variant="default"
                    disabled={steps.length === 1}
                    onClick={() => setSteps(steps.filter(({ id }) => id !== step.id))}
                  >
                    {say('Take it out')}
                  </Button>
                </div>
              )}
            </li>
          ))}
        </ol>
        {mayChange && (
          <div className={classes.acts}>
            <TextInput
              label={say('A further step')}
              value={added}
              onChange={(event) => setAdded(event.currentTarget.value)}
            />
            <Button variant="default" disabled={added.trim() === ''} onClick={addStep}>
              {say('Add it')}
            </Button>
          </div>
        )}
      </fieldset>
      <p className={classes.small}>
        {say('The steps “thaw” and “tissue” run the clocks of the bench. Source: {source}.', {
          source: style.source,
        })}
      </p>
      <Problems error={act.error} />
      {mayChange && (
        <div>
          <Button type="submit" loading={act.isPending}>
            {say('Save as version {version}', { version: style.version + 1 })}
          </Button>
        </div>
      )}
    </form>
  );
}
