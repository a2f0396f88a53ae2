'use client';

import { Button } from '@mantine/core';
import { sayWith } from '@/components/ui/say-with';
import { KeyCaps } from '@/components/ui/shortcuts/key-caps';
import { countOf, say } from '@/lib/platform/words/say';
import { ApprovePanel, type DecisionProps, ReturnPanel } from './decision-panels';
import classes from './review.module.css';

/** The decision, always in sight: approve and number, or return with remarks. */
export function DecisionBar(props: DecisionProps) {
  const { record, mode, onMode } = props;
  if (!record.abilities.approve && !record.abilities.return) return null;
  return (
    <section className={classes.decision} aria-label={say('Decision')}>
      {mode === 'approve' ? <ApprovePanel {...props} /> : null}
      {mode === 'return' ? <ReturnPanel {...props} /> : null}
      {mode === 'read' ? (
        <div className={classes.bar}>
          <p className={classes.say}>
            {record.blocks.length === 0
              ? say('Nothing stands in the way.')
              : say('{of} in the way: {sentence}', {
                  of: countOf(record.blocks.length, 'point'),
                  sentence: record.blocks[0]?.sentence,
                })}
            <br />
            <span className={classes.keys}>
              {sayWith('{keycaps} approve {keycaps2} return {keycaps3} next record', {
                keycaps: <KeyCaps id="review.approve" />,
                keycaps2: <KeyCaps id="review.return" />,
                keycaps3: <KeyCaps id="review.next" />,
              })}
            </span>
          </p>
          <Button size="lg" disabled={!record.abilities.approve} onClick={() => onMode('approve')}>
            {say('Approve and number')}
          </Button>
          <Button
            size="lg"
            variant="default"
            disabled={!record.abilities.return}
            onClick={() => onMode('return')}
          >
            {say('Return with remarks')}
          </Button>
        </div>
      ) : null}
    </section>
  );
}
