import type { Tone } from '@/components/ui/colours';
import { StateBadge } from '@/components/ui/state-badge';
import type { LoanBalance } from '@/lib/loans/rules';
import { countOf, say, sayWord } from '@/lib/platform/words/say';
import classes from './loans.module.css';

const TONES: Record<string, Tone> = {
  asked: 'lead',
  'in-review': 'lead',
  granted: 'settled',
  declined: 'stop',
  packed: 'attention',
  sent: 'attention',
  received: 'attention',
  'partly-back': 'attention',
  closed: 'settled',
};

/** Where a loan is, and how long it is overdue. */
export function LoanState({ state, overdueDays }: { state: string; overdueDays: number }) {
  return (
    <>
      <StateBadge tone={TONES[state] ?? 'neutral'}>{sayWord(state)}</StateBadge>
      {overdueDays > 0 ? (
        <StateBadge tone="stop">{say('{of} overdue', { of: countOf(overdueDays, 'day') })}</StateBadge>
      ) : null}
    </>
  );
}

/** The balance as the equation that it is: sent − returned − consumed − lost = out. */
export function Balance({ balance }: { balance: LoanBalance }) {
  const parts = [
    { sign: '', value: balance.sent, word: say('sent') },
    { sign: '−', value: balance.returned, word: say('returned') },
    { sign: '−', value: balance.consumed, word: say('consumed') },
    { sign: '−', value: balance.lost, word: say('lost') },
    { sign: '=', value: balance.out, word: say('out'), isOut: true },
  ];
  return (
    <p className={classes.balance}>
      {parts.map(({ sign, value, word, isOut }) => (
        <span key={word} data-out={isOut}>
          {sign} <b>{value}</b> {word}
        </span>
      ))}
    </p>
  );
}
