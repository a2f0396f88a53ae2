'use client';

import { Button } from '@mantine/core';
import { useState } from 'react';
import { PrintLabels } from '@/components/labels/print-labels';
import { Link } from '@/components/ui/link';
import { problemOf } from '@/components/ui/problem';
import { StateBadge } from '@/components/ui/state-badge';
import { MAX_QUERY_LENGTH } from '@/lib/catalogue/query/parse';
import { printQuery } from '@/lib/catalogue/query/print';
import { joinQueries } from '@/lib/catalogue/query/schema';
import type { SearchRow } from '@/lib/catalogue/search-wire';
import { queryString } from '@/lib/platform/api';
import { type BulkAnswer, MAX_CHOSEN } from '@/lib/platform/bulk-wire';
import { paths } from '@/lib/platform/paths';
import { countOf, say } from '@/lib/platform/words/say';
import { DeterminationForm } from './determination-form';
import { type BulkCommand, useBulkAct } from './queries';
import classes from './search.module.css';

export type BulkMay = {
  export: boolean;
  follow: boolean;
  labels: boolean;
  loan: boolean;
  determine: boolean;
};
/** A chosen bird: enough to name it wherever the list has gone meanwhile. */
export type Chosen = Pick<SearchRow, 'birdId' | 'number' | 'catalogueNumber'>;

const nameOf = ({ catalogueNumber, number }: Chosen): string => catalogueNumber ?? number;

/** Only these birds, as the box says it. */
const onlyThese = (birds: readonly Chosen[]): string =>
  printQuery(
    joinQueries(
      'or',
      birds.map(({ number }) => ({ kind: 'term', field: 'number', text: number })),
    ),
  );

type Done = { what: string; answer: BulkAnswer; names: ReadonlyMap<string, string> };

/** What can be done with the chosen birds at once, and what became of each. */
export function BulkActs({
  birds,
  q,
  may,
  onQuery,
}: {
  birds: readonly Chosen[];
  /** The search that they were chosen from. */
  q: string;
  may: BulkMay;
  onQuery: (q: string) => void;
}) {
  const act = useBulkAct();
  const [isIdentifying, setIdentifying] = useState(false);
  const [done, setDone] = useState<Done | null>(null);
  const ids = birds.map(({ birdId }) => birdId);
  if (ids.length > MAX_CHOSEN)
    return (
      <p>
        {say('At most {maxChosen} birds at once: take some away, or narrow the search.', {
          maxChosen: MAX_CHOSEN,
        })}
      </p>
    );

  const run = (what: string, command: BulkCommand) => {
    const names = new Map(birds.map((bird) => [bird.birdId, nameOf(bird)]));
    setDone(null);
    act.mutate(command, {
      onSuccess: (answer) => {
        setDone({ what, answer, names });
        setIdentifying(false);
      },
    });
  };
  const only = onlyThese(birds);
  const file = (form: 'csv' | 'xlsx') =>
    `/api/catalogue/export${queryString({ q, form, birds: ids.join(',') })}`;
  return (
    <div className={classes.bulk}>
      {only.length <= MAX_QUERY_LENGTH ? (
        <Button variant="default" onClick={() => onQuery(only)}>
          {say('Only these')}
        </Button>
      ) : null}
      {may.follow ? (
        <>
          <Button
            variant="default"
            loading={act.isPending}
            onClick={() => run(say('followed'), { act: 'follow', body: { birdIds: ids, follow: true } })}
          >
            {say('Follow')}
          </Button>
          <Button
            variant="default"
            loading={act.isPending}
            onClick={() =>
              run(say('no longer followed'), { act: 'follow', body: { birdIds: ids, follow: false } })
            }
          >
            {say('Stop following')}
          </Button>
        </>
      ) : null}
      {may.determine ? (
        <Button
          variant="default"
          aria-expanded={isIdentifying}
          onClick={() => setIdentifying(!isIdentifying)}
        >
          {say('Identify anew')}
        </Button>
      ) : null}
      {may.loan ? (
        <Button
          component={Link}
          variant="default"
          href={`${paths.loanNew}${queryString({ birds: ids.join(',') })}`}
        >
          {say('Ask for a loan')}
        </Button>
      ) : null}
      {may.export ? (
        <>
          <Button component="a" variant="default" href={file('csv')}>
            {say('These as CSV')}
          </Button>
          <Button component="a" variant="default" href={file('xlsx')}>
            {say('These as XLSX')}
          </Button>
        </>
      ) : null}
      {may.labels ? <PrintLabels kind="specimen-tag" name="Print tags" ids={ids} /> : null}
      {isIdentifying ? (
        <DeterminationForm
          error={act.error}
          isPending={act.isPending}
          attempt={act.failureCount}
          onSubmit={(body) => run('identified', { act: 'determine', body: { ...body, birdIds: ids } })}
          onLeave={() => setIdentifying(false)}
        />
      ) : act.error === null ? null : (
        <p role="alert">{problemOf(act.error).title}</p>
      )}
      {done === null ? null : <BulkReport {...done} />}
    </div>
  );
}

/** How many were done, and which were not and why. */
function BulkReport({ what, answer, names }: Done) {
  const failed = answer.rows.filter(({ problem }) => problem !== null);
  const count = answer.rows.length - failed.length;
  return (
    <div role="status" className={classes.report}>
      <StateBadge tone={failed.length === 0 ? 'settled' : 'attention'}>
        {countOf(count, 'bird')} {what}
        {failed.length === 0 ? '' : say(', {length} not', { length: failed.length })}
      </StateBadge>
      {failed.length === 0 ? null : (
        <ul>
          {failed.map(({ id, problem }) => (
            <li key={id}>
              <b>{names.get(id) ?? say('A bird')}</b>: {problem}
            </li>
          ))}
        </ul>
      )}
    </div>
  );
}
