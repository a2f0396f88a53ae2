'use client';

import { Button, TextInput } from '@mantine/core';
import { useQuery } from '@tanstack/react-query';
import { type FormEvent, useState } from 'react';
import { DataList } from '@/components/ui/data-list';
import { EmptyState } from '@/components/ui/empty-state';
import { StateBadge } from '@/components/ui/state-badge';
import { TaxonName } from '@/components/ui/taxon-name';
import type { LoanKind } from '@/lib/loans/schema';
import type { Lendable } from '@/lib/loans/wire';
import { say, sayWord } from '@/lib/platform/words/say';
import classes from './loans.module.css';
import { lendableOptions } from './queries';

/** Materials for a loan, found by scanning labels one after the other or by the catalogue's own words. */
export function MaterialChoice({
  kind,
  birds,
  chosen,
  onChange,
}: {
  kind: LoanKind;
  /** Birds that were chosen in the catalogue, parted by commas: their materials are offered at once. */
  birds?: string;
  chosen: readonly Lendable[];
  onChange: (chosen: Lendable[]) => void;
}) {
  const [text, setText] = useState('');
  const [asked, setAsked] = useState('');
  const isChosen = (id: string) => chosen.some((one) => one.id === id);
  const found = useQuery(lendableOptions(asked === '' ? { birds, kind } : { q: asked, kind }));
  const isShown = asked !== '' || birds !== undefined;
  const free = (found.data?.materials ?? []).filter(
    ({ id, problems }) => problems.length === 0 && !isChosen(id),
  );
  const find = (event: FormEvent) => {
    event.preventDefault();
    setAsked(text.trim());
    // A scanner writes a code and presses Enter: the box is free for the next one.
    setText('');
  };
  return (
    <>
      <ul className={classes.chosen} aria-label={say('Chosen materials')}>
        {chosen.map((material) => (
          <li key={material.id}>
            <span>
              <b>{material.label}</b> <TaxonName scientific={material.scientificName} />,{' '}
              {sayWord(material.kind).toLowerCase()}
            </span>
            <Button
              size="compact-sm"
              variant="subtle"
              onClick={() => onChange(chosen.filter(({ id }) => id !== material.id))}
            >
              {say('Take away')}
            </Button>
          </li>
        ))}
      </ul>
      <form onSubmit={find} className={classes.row}>
        <TextInput
          label={say('Scan a label, or type a number or name')}
          type="search"
          value={text}
          onChange={(event) => setText(event.currentTarget.value)}
          style={{ flex: '1 1 260px', maxWidth: 480 }}
        />
        <Button type="submit" variant="default" disabled={text.trim() === ''}>
          {say('Find')}
        </Button>
      </form>
      {isShown && free.length > 1 ? (
        <Button variant="default" mt="sm" onClick={() => onChange([...chosen, ...free])}>
          {say('Choose all {length} that may go', { length: free.length })}
        </Button>
      ) : null}
      {!isShown ? null : (
        <DataList
          label={
            asked === ''
              ? say('Materials of the chosen birds')
              : say('Materials found for {asked}', { asked })
          }
          columns={[
            {
              id: 'label',
              head: say('Material'),
              cell: (row) => (
                <>
                  {row.label}
                  <br />
                  <TaxonName scientific={row.scientificName} common={row.commonName} />
                </>
              ),
            },
            { id: 'kind', head: say('Kind'), cell: (row) => sayWord(row.kind) },
            {
              id: 'place',
              head: say('Place'),
              deskOnly: true,
              cell: (row) => row.place ?? say('no place noted'),
            },
            {
              id: 'go',
              head: say('May go'),
              cell: (row) =>
                row.problems.length > 0 ? (
                  <StateBadge tone="attention">{row.problems.join(' ')}</StateBadge>
                ) : isChosen(row.id) ? (
                  <StateBadge tone="settled">{say('Chosen')}</StateBadge>
                ) : (
                  <Button
                    size="sm"
                    aria-label={say('Choose {label}', { label: row.label })}
                    onClick={() => onChange([...chosen, row])}
                  >
                    {say('Choose')}
                  </Button>
                ),
            },
          ]}
          rows={found.data?.materials}
          rowId={(row) => row.id}
          loading={found.isFetching}
          error={found.error}
          onRetry={() => void found.refetch()}
          empty={
            <EmptyState
              title={
                asked === ''
                  ? say('The chosen birds have no material that is kept')
                  : say('Nothing bears “{asked}”', { asked })
              }
            />
          }
        />
      )}
    </>
  );
}
