'use client';

import { Button } from '@mantine/core';
import { useQuery } from '@tanstack/react-query';
import { useMemo } from 'react';
import { Moment } from '@/components/ui/moment';
import { sayWith } from '@/components/ui/say-with';
import { StripPlot } from '@/components/ui/strip-plot';
import type { Comparison } from '@/lib/bench/comparison';
import { readFieldText } from '@/lib/bench/dictation/read-field';
import { FIELD_HELP } from '@/lib/bench/field-help';
import { FIELDS, type FieldId, NUMBER_FIELDS, type NumberFieldId } from '@/lib/bench/fields';
import { peersOf } from '@/lib/bench/peers';
import { judgeAgainstPeers, stripPlot } from '@/lib/bench/plausibility';
import { sayFieldValue } from '@/lib/bench/say';
import { plainValues } from '@/lib/bench/snapshot';
import { say } from '@/lib/platform/words/say';
import { useBench } from './bench-context';
import classes from './field-card.module.css';
import { heldValues } from './live';
import type { LiveRecord, LiveValue } from './pending';
import { fieldEntriesOptions } from './queries';

/** What the card says of one field. */
export function FieldAbout({
  field,
  draft,
  live,
  earlier,
  against,
}: {
  field: FieldId;
  /** What is being typed; null when nothing is. */
  draft: string | null;
  live: LiveRecord;
  /** How many earlier entries there are. */
  earlier: number;
  against: Comparison;
}) {
  const { recordId } = useBench();
  const help = FIELD_HELP[field];
  const held = live.values[field];
  return (
    <>
      <h2 className={classes.title}>{FIELDS[field].label}</h2>
      <p className={classes.what}>
        {help.what} {help.how}
      </p>
      <p className={classes.source}>{say('Source: {source}.', { source: help.source })}</p>
      {isNumberField(field) && <Placed field={field} draft={draft} live={live} against={against} />}
      {held && <Written field={field} held={held} />}
      {earlier > 0 && <Earlier recordId={recordId} field={field} />}
    </>
  );
}

const isNumberField = (field: FieldId): field is NumberFieldId =>
  (NUMBER_FIELDS as readonly FieldId[]).includes(field);

/** Where the figure lies, also while it is typed. */
function Placed({
  field,
  draft,
  live,
  against,
}: {
  field: NumberFieldId;
  draft: string | null;
  live: LiveRecord;
  against: Comparison;
}) {
  const peers = useMemo(() => peersOf(plainValues(heldValues(live)), against)[field], [live, against, field]);
  const typed = draft === null ? null : readFieldText(field, draft);
  const value = typed === null ? live.values[field]?.value : typed.ok ? typed.value : undefined;
  const published = against.reference?.measures[field];
  const { label, unit } = FIELDS[field];
  if (peers === undefined) return null;
  const words = field === 'massG' ? { more: say('heavier'), less: say('lighter') } : {};
  const judged =
    typeof value === 'number' ? judgeAgainstPeers({ label, value, unit, ...words }, peers) : null;
  const plot = stripPlot(typeof value === 'number' ? value : 0, peers.values);
  return (
    <div className={classes.placed}>
      {peers.values.length > 0 ? (
        <StripPlot
          values={peers.values}
          unit={unit ?? ''}
          value={typeof value === 'number' ? value : null}
          band={
            plot.usual && {
              low: plot.usual[0],
              high: plot.usual[1],
              label: say('usual here (modified z up to 3.5)'),
            }
          }
          unusual={judged?.verdict === 'unusual'}
          summary={
            judged?.sentence ?? say('{length} {name} here', { length: peers.values.length, name: peers.name })
          }
        />
      ) : (
        <p className={classes.source}>{say('No {name} here yet to compare with.', { name: peers.name })}</p>
      )}
      {published !== undefined && (
        <p className={classes.source}>
          {sayWith('Mean of the species: {number} {unit} ({title}).', {
            number: Number(published.toPrecision(4)),
            unit,
            title: against.reference?.title,
          })}
        </p>
      )}
    </div>
  );
}

function Written({ field, held }: { field: FieldId; held: LiveValue }) {
  const { mayWrite, write } = useBench();
  return (
    <div className={classes.written}>
      <p>
        {held.by.name}, <Moment at={held.at} show="both" />
        {held.verbatim && <span className={classes.said}>“{held.verbatim}”</span>}
      </p>
      {mayWrite && (
        <Button
          variant="default"
          onClick={() => write([{ field, value: null, method: null, verbatim: null, correction: true }])}
        >
          {say('Take this value away')}
        </Button>
      )}
    </div>
  );
}

/** What stood in the field before, newest first. */
function Earlier({ recordId, field }: { recordId: string; field: FieldId }) {
  const { mayWrite, write } = useBench();
  const { data } = useQuery(fieldEntriesOptions(recordId, field));
  const entries = data?.entries.filter(({ current }) => !current) ?? [];
  if (entries.length === 0) return null;
  return (
    <div>
      <h3 className={classes.before}>{say('Before')}</h3>
      <ul className={classes.entries}>
        {entries.map((entry) => (
          <li key={entry.id}>
            <del>{sayFieldValue(field, entry.value, entry.method) || say('taken away')}</del> {entry.by.name},{' '}
            <Moment at={entry.at} show="both" />
            {entry.outranked && say(' (came late: somebody had written since)')}
            {mayWrite && entry.value !== null && (
              <Button
                size="compact-sm"
                variant="subtle"
                aria-label={say('Put back {fieldValue}', {
                  fieldValue: sayFieldValue(field, entry.value, entry.method),
                })}
                onClick={() => {
                  const { value, method, verbatim } = entry;
                  write([{ field, value, method, verbatim, correction: true }]);
                }}
              >
                {say('Put back')}
              </Button>
            )}
          </li>
        ))}
      </ul>
    </div>
  );
}
