import { StateBadge } from '@/components/ui/state-badge';
import { say, sayCode, sayWord } from '@/lib/platform/words/say';
import { formatAmount } from '@/lib/tissues/rules';
import type { Amount, Preservation, VialState } from '@/lib/tissues/schema';
import type { VialRow } from '@/lib/tissues/wire';

/** "liver, toe pad" */
export const sayTissues = (tissues: readonly string[]): string => tissues.map(sayCode).join(', ');

/** "ethanol 96 %", "frozen, −80 °C" */
export function sayPreservation({ kind, ethanolPercent, temperatureC }: Preservation): string {
  const name =
    { 'dmso-salt': say('DMSO and salt'), 'rna-stabiliser': say('RNA stabiliser') }[kind as string] ??
    sayCode(kind);
  const percent = ethanolPercent === null ? '' : ` ${ethanolPercent} %`;
  const degrees = temperatureC === null ? '' : `, ${String(temperatureC).replace('-', '−')} °C`;
  return `${name}${percent}${degrees}`;
}

export const sayAmount = (amount: Amount | null): string =>
  amount === null ? say('not measured') : formatAmount(amount);

/** "60 of 100 mg" */
export function sayLeft({ amount, left }: Pick<VialRow, 'amount' | 'left'>): string {
  if (amount === null || left === null) return say('not measured');
  return amount.value === left.value
    ? formatAmount(left)
    : say('{amount} of {amount2}', { amount: formatAmount(left), amount2: formatAmount(amount) });
}

const TONES: Record<VialState, 'attention' | 'settled' | 'stop' | 'neutral'> = {
  filled: 'attention',
  stored: 'settled',
  'partly-used': 'settled',
  'used-up': 'neutral',
  lost: 'stop',
};

/** State of a vial, or where it is when it is away. */
export function VialStateBadge({ vial }: { vial: Pick<VialRow, 'state' | 'custody'> }) {
  if (vial.custody === 'on-loan') return <StateBadge tone="attention">{say('Out on loan')}</StateBadge>;
  if (vial.custody === 'deaccessioned') return <StateBadge>{say('Deaccessioned')}</StateBadge>;
  return (
    <StateBadge tone={TONES[vial.state]}>
      {vial.state === 'filled' ? say('Filled, without a place') : sayWord(vial.state)}
    </StateBadge>
  );
}

/** Published class, 4 best; the reason stands in the record. */
export const sayClass = (stars: number | null): string =>
  stars === null ? say('not classed') : say('class {stars}', { stars });
