'use client';

import { Button, Textarea } from '@mantine/core';
import { type FormEvent, useState } from 'react';
import { ConfirmInline } from '@/components/ui/confirm-inline';
import { Moment } from '@/components/ui/moment';
import { sayWith } from '@/components/ui/say-with';
import { ToneIcon } from '@/components/ui/tone-icon';
import { FIELDS, isFieldId } from '@/lib/bench/fields';
import type { Lack } from '@/lib/bench/rules';
import type { BenchRecord, BenchRemark } from '@/lib/bench/wire';
import { say } from '@/lib/platform/words/say';
import { Problems } from './problems';
import { useRecordAct } from './queries';
import classes from './review.module.css';

/** What a reviewer wrote, each with its answer. */
export function RemarksSection({ record }: { record: BenchRecord }) {
  return (
    <ul className={classes.remarks}>
      {record.remarks.map((remark) => (
        <li key={remark.id} data-open={remark.answer === null || undefined}>
          <p>
            <b>{isFieldId(remark.field) ? FIELDS[remark.field].label : remark.field}:</b> {remark.remark}
            <span className={classes.small}>
              {remark.by.name}, <Moment at={remark.at} show="both" />
            </span>
          </p>
          {remark.answer ? (
            <p className={classes.answer}>
              {remark.answer.text}
              <span className={classes.small}>
                {remark.answer.by.name}, <Moment at={remark.answer.at} show="both" />
              </span>
            </p>
          ) : (
            record.abilities.write && <Answer recordId={record.id} remark={remark} />
          )}
        </li>
      ))}
    </ul>
  );
}

function Answer({ recordId, remark }: { recordId: string; remark: BenchRemark }) {
  const answer = useRecordAct(recordId, 'remarks');
  const [text, setText] = useState('');
  const submit = (event: FormEvent) => {
    event.preventDefault();
    answer.mutate({ remarkId: remark.id, text });
  };
  return (
    <form onSubmit={submit} className={classes.form}>
      <Textarea
        label={say('What was done about it')}
        size="md"
        rows={2}
        value={text}
        onChange={(event) => setText(event.currentTarget.value)}
      />
      <Problems error={answer.error} />
      <Button type="submit" disabled={text.trim() === ''} loading={answer.isPending}>
        {say('Answer')}
      </Button>
    </form>
  );
}

/** What is still missing, and the sending. Nothing is sent before this device's changes are. */
export function SendSection({
  record,
  lacks,
  unsent,
}: {
  record: BenchRecord;
  lacks: readonly Lack[];
  unsent: number;
}) {
  const send = useRecordAct(record.id, 'send');
  const takeBack = useRecordAct(record.id, 'take-back');
  const [explanation, setExplanation] = useState(record.lackExplanation ?? '');
  const { abilities, state, version } = record;
  if (state === 'in-review') {
    return (
      <div className={classes.form}>
        <p>
          {sayWith(
            'Sent to review {sentAt}. Nothing can be written until a curator has decided, or you take it back.',
            { sentAt: record.sentAt && <Moment at={record.sentAt} show="both" /> },
          )}
        </p>
        {record.lackExplanation && (
          <p className={classes.answer}>
            {say('Missing, because: {lackExplanation}', { lackExplanation: record.lackExplanation })}
          </p>
        )}
        {abilities.takeBack && (
          <ConfirmInline
            act={say('Take it back')}
            question={say('The record leaves the review desk and can be written in again.')}
            confirm={say('Take it back')}
            keep={say('Leave it there')}
            tone="lead"
            reason={{ label: say('Why'), optional: true }}
            onConfirm={(reason) => takeBack.mutateAsync({ version, reason: reason || null })}
          />
        )}
        <Problems error={takeBack.error} />
      </div>
    );
  }
  if (state === 'approved') {
    return (
      <p>{say('Approved and locked. Later changes are amendments, with a reason, in the catalogue.')}</p>
    );
  }
  const openRemarks = record.remarks.filter(({ answer }) => answer === null).length;
  return (
    <div className={classes.form}>
      {lacks.length > 0 ? (
        <>
          <p>{say('Not in the record yet, and usually on the label and in the catalogue:')}</p>
          <ul className={classes.lacks}>
            {lacks.map(({ id, sentence }) => (
              <li key={id}>
                <ToneIcon tone="attention" size={20} /> {sentence}
              </li>
            ))}
          </ul>
          <Textarea
            label={say('If it stays so, say why')}
            size="md"
            autosize
            minRows={2}
            value={explanation}
            disabled={!abilities.write}
            onChange={(event) => setExplanation(event.currentTarget.value)}
          />
        </>
      ) : (
        <p>{say('Everything that a label and a catalogue entry usually hold is there.')}</p>
      )}
      {openRemarks > 0 && <p>{say('Remarks without an answer: {openRemarks}.', { openRemarks })}</p>}
      {unsent > 0 && <p>{say('Changes on this device that are not sent yet: {unsent}.', { unsent })}</p>}
      {!abilities.send && abilities.write && (
        <p>{say('Divide the carcass first; then the record can go to review.')}</p>
      )}
      <Problems error={send.error} />
      <Button
        size="lg"
        loading={send.isPending}
        disabled={
          !abilities.send || unsent > 0 || openRemarks > 0 || (lacks.length > 0 && explanation.trim() === '')
        }
        onClick={() => send.mutate({ version, explanation: explanation.trim() || null })}
      >
        {say('Send to review')}
      </Button>
    </div>
  );
}
