'use client';

import { Fragment, type ReactNode } from 'react';
import { ToneIcon } from '@/components/ui/tone-icon';
import { readCommand } from '@/lib/bench/dictation/commands';
import type { Dictation, UnderstoodField } from '@/lib/bench/dictation/parse';
import { REASON_TEXTS } from '@/lib/bench/dictation/reasons';
import { FIELDS } from '@/lib/bench/fields';
import { sayFieldValue } from '@/lib/bench/say';
import { phrases, say } from '@/lib/platform/words/say';
import classes from './dictation.module.css';
import type { LiveRecord } from './pending';

const COMMANDS = phrases({
  undo: 'Takes your last change back',
  'step-done': 'Marks the next step as done',
  help: 'Shows what can be said',
} as const);

/** What the line was understood as: fields with their values, what they replace, and the words that made no sense. */
export function DictationPreview({
  line,
  dictation,
  live,
}: {
  line: string;
  dictation: Dictation;
  live: LiveRecord;
}) {
  const command = readCommand(line);
  if (command !== null)
    return (
      <p className={classes.preview}>{say('{commands}: press Enter.', { commands: COMMANDS[command] })}</p>
    );
  const reasons = new Set(dictation.notUnderstood.map(({ reason }) => reason));
  return (
    <div className={classes.preview}>
      {dictation.understood.length > 0 && (
        <ul className={classes.understood} aria-label={say('Understood')}>
          {dictation.understood.map((item) => (
            <Understood key={`${item.field} ${item.span.start}`} item={item} live={live} />
          ))}
        </ul>
      )}
      {dictation.notUnderstood.length > 0 && (
        <p className={classes.unknown}>
          <ToneIcon tone="attention" size={20} />
          <span>
            {markUnknown(line, dictation)}
            {[...reasons].map((reason) => (
              <span key={reason} className={classes.reason}>
                {REASON_TEXTS[reason]}
              </span>
            ))}
          </span>
        </p>
      )}
    </div>
  );
}

function Understood({ item, live }: { item: UnderstoodField; live: LiveRecord }) {
  const { field, value, method } = item;
  const before = live.values[field];
  const gathers = FIELDS[field].merge === 'add' && !item.correction;
  return (
    <li className={classes.item}>
      <span className={classes.field}>{FIELDS[field].label}</span> {sayFieldValue(field, value, method)}
      {before && !gathers && (
        <span className={classes.instead}>
          {say(' instead of {fieldValue}', { fieldValue: sayFieldValue(field, before.value, before.method) })}
        </span>
      )}
      {before && gathers && <span className={classes.instead}>{say(' added')}</span>}
    </li>
  );
}

/** The line with the pieces marked that were not understood. */
function markUnknown(line: string, { notUnderstood }: Dictation): ReactNode {
  let from = 0;
  const parts: ReactNode[] = [];
  for (const { span, text } of notUnderstood) {
    parts.push(
      <Fragment key={span.start}>
        <span className={classes.known}>{line.slice(from, span.start)}</span>
        <mark className={classes.mark}>{text}</mark>
      </Fragment>,
    );
    from = span.end;
  }
  return (
    <span className={classes.echo}>
      {parts}
      <span className={classes.known}>{line.slice(from)}</span>
    </span>
  );
}
