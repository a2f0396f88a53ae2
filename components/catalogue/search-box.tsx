'use client';

import { Button, TextInput } from '@mantine/core';
import { IconSearch } from '@tabler/icons-react';
import { type ReactNode, useEffect, useState } from 'react';
import { sayWith } from '@/components/ui/say-with';
import type { SearchAnswer } from '@/lib/catalogue/search-wire';
import { phrases, say } from '@/lib/platform/words/say';
import classes from './search.module.css';

const EXAMPLES = phrases([
  'Turdus migratorius',
  'B-000123',
  'spring 2023',
  'females March to May',
  'material:wing bones:radius+ulna/right/whole',
  'stage:queued or stage:claimed',
  'county:Franklin -sex:male',
]);

/** The one box: what was typed, what was not understood of it, and how a misspelled name was read. */
export function SearchBox({
  q,
  answer,
  onQuery,
  children,
}: {
  q: string;
  answer: SearchAnswer | undefined;
  onQuery: (q: string) => void;
  /** Other ways to write the same. */
  children?: ReactNode;
}) {
  const [text, setText] = useState(q);
  useEffect(() => setText(q), [q]);
  return (
    <search className={classes.box}>
      <form
        onSubmit={(event) => {
          event.preventDefault();
          onQuery(text.trim());
        }}
      >
        <div className={classes.line}>
          <TextInput
            label={say('Number, name, person, place, date')}
            type="search"
            size="md"
            value={text}
            onChange={(event) => setText(event.currentTarget.value)}
            leftSection={<IconSearch size={20} stroke={1.5} aria-hidden="true" />}
            aria-describedby="search-notes"
            className={classes.input}
          />
          <Button type="submit" size="md">
            {say('Search')}
          </Button>
        </div>
        <div id="search-notes" aria-live="polite" className={classes.notes}>
          {answer?.problems.map((problem) => (
            <p key={`${problem.at} ${problem.message}`} data-tone="attention">
              {sayWith('{mark} {message} The rest was searched.', {
                mark:
                  problem.length > 0 ? <mark>{q.slice(problem.at, problem.at + problem.length)}</mark> : null,
                message: problem.message,
              })}
            </p>
          ))}
          {answer?.readAs.map(({ text: read, as }) => (
            <p key={read}>
              {sayWith('Nothing is called “{read}”; it was read as {i}{x}.', {
                read,
                i: <i>{as.slice(0, 4).join(', ')}</i>,
                x: as.length > 4 ? say(' and {length} more', { length: as.length - 4 }) : '',
              })}
            </p>
          ))}
        </div>
        <details className={classes.help}>
          <summary>{say('How to ask')}</summary>
          <p>
            {say(
              'Words side by side all have to fit; “or” takes either, “not” or a dash leaves out, brackets group. A field’s name and a colon say where to look.',
            )}
          </p>
          <ul>
            {EXAMPLES.map((example) => (
              <li key={example}>
                <button type="button" onClick={() => onQuery(example)}>
                  {example}
                </button>
              </li>
            ))}
          </ul>
        </details>
      </form>
      {children}
    </search>
  );
}
