'use client';

import { Button, Textarea } from '@mantine/core';
import { useState } from 'react';
import { Link } from '@/components/ui/link';
import { Moment } from '@/components/ui/moment';
import { problemOf } from '@/components/ui/problem';
import { sayWith } from '@/components/ui/say-with';
import { StateBadge } from '@/components/ui/state-badge';
import { ToneIcon } from '@/components/ui/tone-icon';
import { countOf, say, sayWord } from '@/lib/platform/words/say';
import type { ReportWarning } from '@/lib/reports/schema';
import type { ReportRecord } from '@/lib/reports/wire';
import { useReportAct } from './queries';
import classes from './report-warnings.module.css';
import { drillPath } from './words';

const SHOWN_AT_FIRST = 20;

/** Every warning by its kind, with what was written to it, or a place to write it. */
export function ReportWarnings({ record }: { record: ReportRecord }) {
  const { warnings } = record.report;
  if (warnings.length === 0) return <StateBadge tone="settled">{say('No warning')}</StateBadge>;
  const kinds = [...new Set(warnings.map(({ code }) => code))];
  return (
    <>
      {record.unexplained === 0 ? (
        <p>
          <StateBadge tone="settled">{say('Every warning is explained')}</StateBadge>
        </p>
      ) : (
        <p>
          <StateBadge tone="attention">
            {say('{of} to explain before it can be signed', { of: countOf(record.unexplained, 'warning') })}
          </StateBadge>
        </p>
      )}
      {kinds.map((kind) => (
        <WarningGroup
          key={kind}
          record={record}
          kind={kind}
          warnings={warnings.filter(({ code }) => code === kind)}
        />
      ))}
    </>
  );
}

function WarningGroup(props: { record: ReportRecord; kind: string; warnings: ReportWarning[] }) {
  const { record, kind, warnings } = props;
  const [all, setAll] = useState(false);
  const [together, setTogether] = useState(false);
  const open = warnings.filter(({ id, mustExplain }) => mustExplain && record.explanations[id] === undefined);
  const shown = all ? warnings : warnings.slice(0, SHOWN_AT_FIRST);
  return (
    <section className={classes.group}>
      <h3>
        {sayWord(kind)}: {countOf(warnings.length, 'warning')}
      </h3>
      {record.abilities.explain && open.length > 1 && !together ? (
        <Button variant="subtle" size="compact-md" onClick={() => setTogether(true)}>
          {say('Explain all {length} with one sentence', { length: open.length })}
        </Button>
      ) : null}
      {together && open.length > 1 ? (
        <ExplainForm record={record} warnings={open} onDone={() => setTogether(false)} />
      ) : null}
      <ul className={classes.list}>
        {shown.map((warning) => (
          <Warning key={warning.id} record={record} warning={warning} />
        ))}
      </ul>
      {shown.length < warnings.length ? (
        <Button variant="subtle" onClick={() => setAll(true)}>
          {say('Show all {length}', { length: warnings.length })}
        </Button>
      ) : null}
    </section>
  );
}

function Warning({ record, warning }: { record: ReportRecord; warning: ReportWarning }) {
  const [writing, setWriting] = useState(false);
  const said = record.explanations[warning.id];
  return (
    <li className={classes.warning} data-explained={said !== undefined || undefined}>
      <ToneIcon tone={said === undefined ? 'attention' : 'settled'} />
      <div>
        {warning.birdIds.length === 0 ? (
          warning.message
        ) : (
          <Link href={drillPath(record.id, { warning: warning.id })}>{warning.message}</Link>
        )}
        {said === undefined ? null : (
          <p className={classes.said}>
            “{said.text}” {said.by}, <Moment at={said.at} />
          </p>
        )}
        {writing ? (
          <ExplainForm record={record} warnings={[warning]} onDone={() => setWriting(false)} />
        ) : null}
      </div>
      {record.abilities.explain && !writing ? (
        <Button
          variant="default"
          size="compact-md"
          onClick={() => setWriting(true)}
          aria-label={`${said === undefined ? say('Explain') : say('Explain otherwise')}: ${warning.message}`}
        >
          {said === undefined ? say('Explain') : say('Explain otherwise')}
        </Button>
      ) : null}
    </li>
  );
}

function ExplainForm(props: { record: ReportRecord; warnings: ReportWarning[]; onDone: () => void }) {
  const { record, warnings, onDone } = props;
  const act = useReportAct(record.id);
  const [first] = warnings;
  const [text, setText] = useState(
    first !== undefined && warnings.length === 1 ? (record.explanations[first.id]?.text ?? '') : '',
  );
  const save = () =>
    act.mutate(
      { act: 'explain', version: record.version, warningIds: warnings.map(({ id }) => id), text },
      { onSuccess: onDone },
    );
  return (
    <form
      className={classes.form}
      onSubmit={(event) => {
        event.preventDefault();
        save();
      }}
    >
      {act.error === null ? null : (
        <p role="alert">
          {sayWith('{title} What you wrote is kept here.', { title: problemOf(act.error).title })}
        </p>
      )}
      <Textarea
        label={say('Explanation, printed in the report')}
        required
        autosize
        minRows={2}
        maxLength={2000}
        autoFocus
        value={text}
        onChange={(event) => setText(event.currentTarget.value)}
      />
      <div className={classes.acts}>
        <Button type="submit" loading={act.isPending} disabled={text.trim() === ''}>
          {say('Save the explanation')}
        </Button>
        <Button variant="default" onClick={onDone}>
          {say('Leave it for now')}
        </Button>
      </div>
    </form>
  );
}
