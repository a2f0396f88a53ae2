'use client';

import { Button, NativeSelect, NumberInput, Textarea, TextInput } from '@mantine/core';
import { useQuery } from '@tanstack/react-query';
import { type FormEvent, useState } from 'react';
import { CautionCard } from '@/components/ui/caution-card';
import { ConfirmInline } from '@/components/ui/confirm-inline';
import { EmptyState } from '@/components/ui/empty-state';
import { ErrorState } from '@/components/ui/error-state';
import { Section } from '@/components/ui/facts';
import { Loading } from '@/components/ui/loading';
import { Moment } from '@/components/ui/moment';
import { ListHead } from '@/components/ui/page-head';
import { sayWith } from '@/components/ui/say-with';
import { SCALE_NOT_STATED } from '@/lib/bench/catalogue/types';
import { CAUTION_ENDING } from '@/lib/bench/cautions';
import { FIELDS, type FieldId } from '@/lib/bench/fields';
import { SCORE_FIELDS } from '@/lib/bench/settings';
import type { LabSettings } from '@/lib/bench/wire';
import { countOf, say } from '@/lib/platform/words/say';
import classes from './lab.module.css';
import { Problems } from './problems';
import { labOptions, useLabAct } from './queries';
import { StyleEditor } from './style-editor';

/** How this lab works at the bench: styles, scales, clocks, and the tables it compares with. */
export function LabPage() {
  const lab = useQuery(labOptions());
  return (
    <>
      <ListHead
        title={say('How this lab works')}
        intro={say(
          'Preparation styles are data: change their steps and products here. A record keeps the version that it was begun with.',
        )}
      />
      {lab.error ? (
        <ErrorState
          what={say('The settings could not be loaded.')}
          error={lab.error}
          onRetry={() => void lab.refetch()}
        />
      ) : lab.data === undefined ? (
        <Loading what={say('Loading the settings')} lines={6} />
      ) : (
        <>
          <Section id="styles" title={say('Styles')}>
            <Styles lab={lab.data} />
          </Section>
          <Section
            id="scales"
            title={say('Scales and clocks')}
            note={say('Used when a score is said without its scale, and for the clocks of the bench.')}
          >
            <ScalesAndClocks key={JSON.stringify([lab.data.scales, lab.data.clocks])} lab={lab.data} />
          </Section>
          <Section
            id="references"
            title={say('Reference tables')}
            note={say('Published means by species: measurements are held against the one loaded last.')}
          >
            <References lab={lab.data} />
          </Section>
        </>
      )}
    </>
  );
}

function Styles({ lab }: { lab: LabSettings }) {
  const [open, setOpen] = useState<string | null>(null);
  return (
    <ul className={classes.styles}>
      {lab.styles.map(({ style, savedAt, savedBy }) => (
        <li key={style.id}>
          <div className={classes.style}>
            <div>
              <b>{style.label}</b>
              <span className={classes.small}>
                {sayWith('version {version}, {of}{savedAt}', {
                  version: style.version,
                  of: countOf(style.steps.length, 'step'),
                  savedAt:
                    savedAt &&
                    sayWith(', saved by {savedBy} {moment}', { savedBy, moment: <Moment at={savedAt} /> }),
                })}
              </span>
            </div>
            <Button variant="default" onClick={() => setOpen(open === style.id ? null : style.id)}>
              {open === style.id ? say('Close') : lab.mayChange ? say('Change it') : say('Look at it')}
            </Button>
          </div>
          {open === style.id && (
            <StyleEditor
              key={style.version}
              style={style}
              mayChange={lab.mayChange}
              onSaved={() => setOpen(null)}
            />
          )}
        </li>
      ))}
    </ul>
  );
}

function ScalesAndClocks({ lab }: { lab: LabSettings }) {
  const act = useLabAct();
  const [scales, setScales] = useState<Partial<Record<FieldId, string>>>(lab.scales);
  const [clocks, setClocks] = useState(lab.clocks);
  const submit = (event: FormEvent) => {
    event.preventDefault();
    act.mutate({ method: 'PUT', path: '', body: { scales, clocks } });
  };
  return (
    <form className={classes.form} onSubmit={submit}>
      {SCORE_FIELDS.map((field) => (
        <NativeSelect
          key={field}
          label={FIELDS[field].label}
          disabled={!lab.mayChange}
          value={scales[field] ?? ''}
          data={[
            { value: '', label: say('must be said each time') },
            ...FIELDS[field].scales
              .filter(({ id }) => id !== SCALE_NOT_STATED)
              .map(({ id, label }) => ({ value: id, label })),
          ]}
          onChange={(event) => {
            const { [field]: _, ...others } = scales;
            const chosen = event.currentTarget.value;
            setScales(chosen === '' ? others : { ...others, [field]: chosen });
          }}
        />
      ))}
      <NumberInput
        label={say('Tissue is due after the bird is workable, in minutes')}
        disabled={!lab.mayChange}
        min={5}
        max={1440}
        value={clocks.tissueWithinMinutes}
        onChange={(value) => setClocks({ ...clocks, tissueWithinMinutes: Number(value) })}
      />
      <NumberInput
        label={say('Longest time out of the freezer, in hours')}
        disabled={!lab.mayChange}
        min={1}
        max={240}
        value={clocks.timeOutAfterHours}
        onChange={(value) => setClocks({ ...clocks, timeOutAfterHours: Number(value) })}
      />
      <CautionCard
        title={say('Start values')}
        source={say('common practice, no source')}
        closing={CAUTION_ENDING}
      >
        <p>{say('How long a bird may lie out, and how soon tissue must be taken, is for the lab to say.')}</p>
      </CautionCard>
      <Problems error={act.error} />
      {lab.mayChange && (
        <div>
          <Button type="submit" loading={act.isPending}>
            {say('Save')}
          </Button>
        </div>
      )}
    </form>
  );
}

function References({ lab }: { lab: LabSettings }) {
  const act = useLabAct();
  const [table, setTable] = useState({ title: '', source: '', csv: '' });
  const submit = (event: FormEvent) => {
    event.preventDefault();
    act.mutate(
      { method: 'POST', path: '/references', body: table },
      { onSuccess: () => setTable({ title: '', source: '', csv: '' }) },
    );
  };
  const readFile = (file: File | null) => {
    if (file === null) return;
    void file
      .text()
      .then((csv) => setTable((before) => ({ ...before, csv, title: before.title || file.name })));
  };
  return (
    <div className={classes.form}>
      {lab.references.length === 0 ? (
        <EmptyState title={say('No reference table is loaded')}>
          <p>{say('Numbers are held against the birds of this collection alone.')}</p>
        </EmptyState>
      ) : (
        <ul className={classes.styles}>
          {lab.references.map(({ id, title, source, taxa, loadedAt }) => (
            <li key={id} className={classes.style}>
              <div>
                <b>{title}</b>
                <span className={classes.small}>
                  {sayWith('{of}, {source}, loaded {moment}', {
                    of: countOf(taxa, 'species', 'species'),
                    source,
                    moment: <Moment at={loadedAt} />,
                  })}
                </span>
              </div>
              {lab.mayChange && (
                <ConfirmInline
                  act={say('Remove')}
                  question={say('Measurements are no longer held against “{title}”.', { title })}
                  confirm={say('Remove it')}
                  onConfirm={() => act.mutateAsync({ method: 'DELETE', path: `/references/${id}`, body: {} })}
                />
              )}
            </li>
          ))}
        </ul>
      )}
      {lab.mayChange && (
        <form className={classes.form} onSubmit={submit}>
          <h3>{say('Load a table')}</h3>
          <TextInput
            label={say('Title')}
            required
            value={table.title}
            onChange={(event) => setTable({ ...table, title: event.currentTarget.value })}
          />
          <TextInput
            label={say('Source and licence')}
            required
            value={table.source}
            onChange={(event) => setTable({ ...table, source: event.currentTarget.value })}
          />
          <label className={classes.file}>
            {say('CSV file')}
            <input
              type="file"
              accept=".csv,text/csv"
              onChange={(event) => readFile(event.currentTarget.files?.[0] ?? null)}
            />
          </label>
          <Textarea
            label={say('Or paste it')}
            description={say(
              'A head line: scientificName, then any of massG, wingMm, tailMm, tarsusMm, culmenExposedMm … One line a species; g and mm.',
            )}
            rows={4}
            value={table.csv}
            onChange={(event) => setTable({ ...table, csv: event.currentTarget.value })}
          />
          <Problems error={act.error} />
          <div>
            <Button type="submit" loading={act.isPending}>
              {say('Load it')}
            </Button>
          </div>
        </form>
      )}
    </div>
  );
}
