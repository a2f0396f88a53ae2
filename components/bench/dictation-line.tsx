'use client';

import { Button } from '@mantine/core';
import { useMounted } from '@mantine/hooks';
import { IconArrowBackUp, IconHelp, IconMicrophone } from '@tabler/icons-react';
import { type KeyboardEvent, type ReactNode, useCallback, useEffect, useMemo, useRef, useState } from 'react';
import { whenOpened } from '@/components/ui/later';
import { actOf } from '@/components/ui/shortcuts/table';
import { useKeyArea } from '@/components/ui/shortcuts/use-shortcuts';
import { readCommand } from '@/lib/bench/dictation/commands';
import type { UnderstoodField } from '@/lib/bench/dictation/parse';
import { spellOut, TAKEN } from '@/lib/bench/dictation/spell-out';
import type { FieldId } from '@/lib/bench/fields';
import type { ShownValue } from '@/lib/bench/wire';
import { say } from '@/lib/platform/words/say';
import { useBench } from './bench-context';
import classes from './dictation.module.css';
import { DICTATION_ID } from './focus';
import { type Grammar, grammar } from './later-code';
import type { LiveRecord } from './pending';
import { useSpeech } from './use-speech';

const DictationHelp = whenOpened(() => import('./dictation-help').then((module) => module.DictationHelp));

const HISTORY = 30;

/**
 * The one input that is always in reach. It shows what it understands while one types; Enter writes it, and what was
 * not understood stays in the line. A line that is entered before the grammar came waits for it and is read then, and
 * what was taken unseen is written out. Arrow up brings earlier lines back, arrow right takes what is offered next.
 */
export function DictationLine({
  live,
  order,
  status,
  onUndo,
  onStepDone,
}: {
  live: LiveRecord;
  /** Fields in the order in which the style's steps fill them. */
  order: readonly FieldId[];
  /** Whether what was written is safe; stands under the line. */
  status: ReactNode;
  onUndo: () => void;
  onStepDone: () => void;
}) {
  const { write, scales, mayWrite } = useBench();
  useKeyArea('dictation', mayWrite);
  // Until the page is awake nothing listens: what would be typed could be lost.
  const awake = useMounted();
  const [line, setLine] = useState('');
  const [said, setSaid] = useState('');
  const [help, setHelp] = useState(false);
  const lastField = useRef<FieldId | undefined>(undefined);
  /** Lines that were entered before the grammar came, the first first. */
  const [unread, setUnread] = useState<readonly string[]>([]);
  const [failed, setFailed] = useState(false);
  const lines = useRef<{ past: string[]; at: number }>({ past: [], at: 0 });
  const hear = useCallback((text: string) => setLine(text), []);
  const speech = useSpeech(hear);
  const reading = grammar.useNow();
  const dictation = useMemo(
    () => reading?.parseDictation(line, { lastField: lastField.current, scales }),
    [line, scales, reading],
  );
  const offer = useCallback(
    (text: string, { suggestNext }: Grammar, written: readonly FieldId[] = []) => {
      const filled = new Set([...(Object.keys(live.values) as FieldId[]), ...written]);
      return suggestNext(text, { order, filled, scales, lastField: lastField.current });
    },
    [live.values, order, scales],
  );
  const offered = useMemo(
    () => (mayWrite && reading !== null ? offer(line, reading) : null),
    [line, offer, mayWrite, reading],
  );

  const remember = (text: string) => {
    lines.current.past = [...lines.current.past, text].slice(-HISTORY);
    lines.current.at = lines.current.past.length;
  };
  const recall = (step: number) => {
    const { past } = lines.current;
    lines.current.at = Math.max(0, Math.min(past.length, lines.current.at + step));
    setLine(past[lines.current.at] ?? '');
  };
  /** Does what an entered line says, and adds to `written` what it filled; what is answered stays in the line. */
  const take = (text: string, { parseDictation }: Grammar, written: FieldId[] = []): string => {
    const command = readCommand(text);
    if (command !== null) {
      if (command === 'undo') onUndo();
      if (command === 'step-done') onStepDone();
      if (command === 'help') setHelp(true);
      return '';
    }
    const { understood, notUnderstood } = parseDictation(text, { lastField: lastField.current, scales });
    if (understood.length === 0) {
      if (text.trim() !== '') setSaid(say('Nothing in this line was understood.'));
      return text;
    }
    write(understood.map(toNewValue));
    written.push(...understood.map(({ field }) => field));
    lastField.current = understood.at(-1)?.field;
    remember(text);
    const left =
      notUnderstood.length === 0
        ? ''
        : say(' {length} not understood, left in the line.', { length: notUnderstood.length });
    setSaid(say('{length} written.{left}', { length: understood.length, left }));
    return notUnderstood.map(({ text: piece }) => piece).join('; ');
  };
  /** Puts what stays of earlier lines before what was typed since. */
  const giveBack = (texts: readonly string[]) => {
    const left = texts.filter((text) => text.trim() !== '');
    if (left.length > 0) setLine((typed) => [...left, ...(typed === '' ? [] : [typed])].join('; '));
  };
  const change = (text: string) => {
    if (reading === null) void grammar.come().catch(() => undefined);
    setLine(text);
  };
  const accept = () => {
    if (reading !== null) {
      setLine(take(line, reading));
      return;
    }
    if (line.trim() === '') return;
    setUnread([...unread, line]);
    setLine('');
    setSaid(say('Waits until this page can read it.'));
    grammar.come().catch(() => setFailed(true));
  };
  useEffect(() => {
    if (reading !== null) {
      if (unread.length === 0 && !line.includes(TAKEN)) return;
      const written: FieldId[] = [];
      const read = (text: string) => spellOut(text, (begun) => offer(begun, reading, written));
      const left = unread.map((text) => take(read(text), reading, written));
      setLine(read);
      giveBack(left);
      setUnread([]);
    } else if (failed) {
      setFailed(false);
      setUnread([]);
      giveBack(unread.map((text) => text.replaceAll(TAKEN, ' ')));
      setSaid(say('What reads this line could not be loaded. Enter it again when there is a connection.'));
    }
  });
  const onKeyDown = (event: KeyboardEvent<HTMLInputElement>) => {
    const act = event.nativeEvent.isComposing ? null : actOf('dictation', event);
    const { selectionStart, selectionEnd } = event.currentTarget;
    const atEnd = selectionStart === line.length && selectionEnd === line.length;
    if (act === 'dictation.write') accept();
    else if (act === 'dictation.take' && atEnd && offered !== null) setLine(line + offered);
    else if (act === 'dictation.take' && atEnd && reading === null) change(line + TAKEN);
    else if (act === 'dictation.earlier') recall(-1);
    else if (act === 'dictation.later') recall(1);
    else if (act === 'dictation.clear') {
      setLine('');
      setHelp(false);
    } else return;
    event.preventDefault();
  };

  return (
    <div className={classes.bar}>
      {help && <DictationHelp onClose={() => setHelp(false)} />}
      {line.trim() !== '' && reading !== null && dictation !== undefined && (
        <reading.DictationPreview line={line} dictation={dictation} live={live} />
      )}
      <div className={classes.line}>
        <label htmlFor={DICTATION_ID} className="f-hidden">
          {say('Dictation')}
        </label>
        <span className={classes.box}>
          <input
            id={DICTATION_ID}
            className={classes.input}
            type="text"
            autoComplete="off"
            autoCapitalize="off"
            spellCheck={false}
            placeholder={
              mayWrite
                ? say('wing 94 tail 71.5 — Enter writes it, F2 brings you here')
                : say('Nothing can be written now')
            }
            aria-describedby="dictation-said"
            value={line}
            readOnly={!mayWrite || !awake}
            onChange={(event) => change(event.currentTarget.value)}
            onKeyDown={onKeyDown}
          />
          {offered !== null && (
            <span className={classes.offered} aria-hidden="true">
              → {offered.replace(/^; /, '').trim()}
            </span>
          )}
        </span>
        {speech.available && mayWrite && (
          <Button
            variant={speech.listening ? 'filled' : 'default'}
            leftSection={<IconMicrophone size={22} stroke={1.75} aria-hidden="true" />}
            aria-pressed={speech.listening}
            onClick={speech.toggle}
          >
            {speech.listening ? say('Listening') : say('Listen')}
          </Button>
        )}
        <Button
          variant="default"
          leftSection={<IconArrowBackUp size={22} stroke={1.75} aria-hidden="true" />}
          disabled={!mayWrite}
          onClick={onUndo}
        >
          {say('Undo')}
        </Button>
        <Button
          variant="default"
          leftSection={<IconHelp size={22} stroke={1.75} aria-hidden="true" />}
          aria-expanded={help}
          onClick={() => setHelp(!help)}
        >
          {say('Help')}
        </Button>
      </div>
      <div className={classes.foot}>
        {status}
        <p id="dictation-said" className={classes.said} role="status">
          {speech.problem ?? said}
        </p>
      </div>
    </div>
  );
}

const toNewValue = ({ field, value, method, verbatim, correction }: UnderstoodField) => ({
  field,
  value: value as ShownValue['value'],
  method,
  verbatim,
  correction,
});
