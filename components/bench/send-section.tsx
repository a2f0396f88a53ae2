'use client';

import { Button } from '@mantine/core';
import { useState } from 'react';
import { ConfirmInline } from '@/components/ui/confirm-inline';
import { Moment } from '@/components/ui/moment';
import { LongTextField } from '@/components/ui/plain-controls';
import { sayWith } from '@/components/ui/say-with';
import { ToneIcon } from '@/components/ui/tone-icon';
import type { BenchValues } from '@/lib/bench/fields';
import { listLacks } from '@/lib/bench/rules';
import type { BenchRecord } from '@/lib/bench/wire';
import { say } from '@/lib/platform/words/say';
import { Problems } from './problems';
import { useRecordAct } from './queries';
import classes from './review.module.css';

/** What is still missing, and the sending. Nothing is sent before this device's changes are. */
export function SendSection({
  record,
  values,
  unsent,
}: {
  record: BenchRecord;
  /** As they stand on this device. */
  values: BenchValues;
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
  const lacks = listLacks(values, record.style.id);
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
          <LongTextField
            label={say('If it stays so, say why')}
            value={explanation}
            disabled={!abilities.write}
            onChange={setExplanation}
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
