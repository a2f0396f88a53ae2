'use client';

import { Button, Textarea, TextInput } from '@mantine/core';
import { type FormEvent, useState } from 'react';
import { ConfirmInline } from '@/components/ui/confirm-inline';
import { EmptyState } from '@/components/ui/empty-state';
import { Moment } from '@/components/ui/moment';
import { sayWith } from '@/components/ui/say-with';
import type { LabSettings } from '@/lib/bench/wire-lab';
import { countOf, say } from '@/lib/platform/words/say';
import classes from './lab.module.css';
import { useLabAct } from './lab-queries';
import { Problems } from './problems';

/** The tables of published means, and the form for another. */
export function References({ lab }: { lab: LabSettings }) {
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
