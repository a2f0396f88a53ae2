'use client';

import { IconAlertTriangle, IconCheck, IconCloudOff, IconLoader2 } from '@tabler/icons-react';
import { sayWith } from '@/components/ui/say-with';
import { countOf, say } from '@/lib/platform/words/say';
import { Moment } from './moment';
import classes from './save-state.module.css';

export type SaveStatus =
  | { kind: 'saved'; at?: string }
  | { kind: 'saving' }
  /** Kept on this device, to be sent when the connection returns. */
  | { kind: 'not-sent'; changes: number }
  | { kind: 'failed'; why: string };

const ICONS = {
  saved: IconCheck,
  saving: IconLoader2,
  'not-sent': IconCloudOff,
  failed: IconAlertTriangle,
} as const;
const TONES = { saved: 'settled', saving: 'neutral', 'not-sent': 'attention', failed: 'stop' } as const;

function Words({ status }: { status: SaveStatus }) {
  if (status.kind === 'saving') return <>{say('Saving…')}</>;
  if (status.kind === 'not-sent')
    return <>{say('Not sent yet: {of} kept on this device', { of: countOf(status.changes, 'change') })}</>;
  if (status.kind === 'failed') return <>{say('Not saved: {why}', { why: status.why })}</>;
  return status.at
    ? sayWith('Saved {moment}', { moment: <Moment at={status.at} show="time" /> })
    : say('Saved');
}

/** Says whether what was typed is safe: saved, on its way, kept here until the connection returns, or refused. */
export function SaveState({ status }: { status: SaveStatus }) {
  const Icon = ICONS[status.kind];
  return (
    <p className={classes.state} data-tone={TONES[status.kind]} role="status">
      <Icon size={18} stroke={1.75} aria-hidden="true" className={classes.icon} data-kind={status.kind} />
      <span>
        <Words status={status} />
      </span>
    </p>
  );
}
