'use client';

import { NativeSelect, TextInput } from '@mantine/core';
import { type ReactNode, useState } from 'react';
import { type Column, DataList } from '@/components/ui/data-list';
import { EmptyState } from '@/components/ui/empty-state';
import { ErrorState } from '@/components/ui/error-state';
import { Loading } from '@/components/ui/loading';
import { ListHead } from '@/components/ui/page-head';
import { useListAddress } from '@/components/ui/use-list-address';
import { paths } from '@/lib/platform/paths';
import { countOf, say, sayWord } from '@/lib/platform/words/say';
import type { ProcessGroup, ProcessRow } from '@/lib/storage/schema';
import { AgeStrip } from './age-strip';
import classes from './process-list.module.css';

type Group<Row> = Omit<ProcessGroup, 'rows'> & { rows: Row[] };

export type ProcessListProps<Row extends ProcessRow> = {
  title: string;
  intro: ReactNode;
  /** 'skeleton': one of what is listed. */
  noun: string;
  states: readonly string[];
  columns: readonly Column<Row>[];
  query: { state?: string; q?: string; size: number };
  groups: Group<Row>[] | undefined;
  loading: boolean;
  error: unknown;
  onRetry: () => void;
  acts?: ReactNode;
  /** What can be done with the chosen rows of one state. */
  moveOn: (rows: Row[], done: () => void) => ReactNode;
};

/** Materials on their way to the shelf: one list a state in the order of the work, what is overdue first. */
export function ProcessList<Row extends ProcessRow>(props: ProcessListProps<Row>) {
  const { title, intro, noun, states, query, groups } = props;
  const address = useListAddress();
  const found = groups?.filter(({ total }) => total > 0);
  const total = groups?.reduce((sum, group) => sum + group.total, 0) ?? 0;
  const overdue = groups?.reduce((sum, group) => sum + group.overdue, 0) ?? 0;
  return (
    <>
      <ListHead
        title={title}
        count={groups === undefined ? undefined : countOf(total, noun)}
        intro={
          overdue === 0 ? intro : say('{of} past the longest expected time.', { of: countOf(overdue, noun) })
        }
        acts={props.acts}
      >
        <NativeSelect
          label={say('Show')}
          data={[
            { value: '', label: say('All on their way') },
            ...states.map((state) => ({ value: state, label: sayWord(state) })),
          ]}
          value={query.state ?? ''}
          onChange={(event) => address.filter({ state: event.currentTarget.value })}
        />
        <TextInput
          label={say('Number or name')}
          type="search"
          defaultValue={query.q ?? ''}
          onChange={(event) => address.filter({ q: event.currentTarget.value })}
        />
      </ListHead>
      {props.error ? (
        <ErrorState
          what={say('The {noun}s could not be loaded.', { noun })}
          error={props.error}
          onRetry={props.onRetry}
        />
      ) : found === undefined ? (
        <Loading what={say('Loading the {noun}s', { noun })} lines={8} />
      ) : found.length === 0 ? (
        <EmptyState
          title={
            query.q === undefined ? say('No {noun} here', { noun }) : say('No {noun} like this', { noun })
          }
        >
          <p>{say('They come here when a carcass is divided at the bench.')}</p>
        </EmptyState>
      ) : (
        found.map((group) => <StateGroup key={group.state} group={group} list={props} />)
      )}
    </>
  );
}

function StateGroup<Row extends ProcessRow>({
  group,
  list,
}: {
  group: Group<Row>;
  list: ProcessListProps<Row>;
}) {
  const address = useListAddress();
  const [selected, setSelected] = useState<ReadonlySet<string>>(new Set());
  const { state, rows, total, overdue } = group;
  const chosen = rows.filter(({ id }) => selected.has(id));
  const mayChoose = rows.some(({ abilities }) => abilities.advance);
  const choose = (ids: ReadonlySet<string>) =>
    setSelected(new Set(rows.filter((row) => ids.has(row.id) && row.abilities.advance).map(({ id }) => id)));
  const one = list.query.state === state;
  return (
    <section className={classes.group} aria-labelledby={`state-${state}`}>
      <h2 id={`state-${state}`}>{sayWord(state)}</h2>
      <p className={classes.figures}>
        {countOf(total, list.noun)}
        {overdue > 0 && <>{say(', {overdue} overdue', { overdue })}</>}
      </p>
      <DataList<Row>
        label={`${sayWord(state)}: ${list.noun}s`}
        columns={list.columns}
        rows={rows}
        rowId={(row) => row.id}
        rowHref={(row) => paths.material(row.id)}
        loading={list.loading}
        selection={
          mayChoose ? { selected: new Set(chosen.map(({ id }) => id)), onChange: choose } : undefined
        }
        paging={one ? address.paging(group.next, list.query.size) : undefined}
      />
      {!one && group.next !== null && (
        <button type="button" className={classes.more} onClick={() => address.filter({ state })}>
          {say('Show all {total}', { total })}
        </button>
      )}
      {chosen.length > 0 && (
        <div className={classes.acts}>{list.moveOn(chosen, () => setSelected(new Set()))}</div>
      )}
      {state !== 'shelved' && rows.length > 2 && <AgeStrip rows={rows} noun={list.noun} />}
    </section>
  );
}
