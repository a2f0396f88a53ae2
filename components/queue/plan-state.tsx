import type { Tone } from '@/components/ui/colours';
import { StateBadge } from '@/components/ui/state-badge';
import { phrases } from '@/lib/platform/words/say';
import type { PlanState } from '@/lib/queue/plan-wire';

const WORDS: Record<PlanState, { tone: Tone; word: string }> = phrases({
  asked: { tone: 'neutral', word: 'Waits for the solver' },
  working: { tone: 'lead', word: 'Being worked out' },
  proposed: { tone: 'attention', word: 'Proposed' },
  'no-plan': { tone: 'stop', word: 'No plan possible' },
  stopped: { tone: 'neutral', word: 'Stopped' },
  failed: { tone: 'stop', word: 'Failed' },
  'in-force': { tone: 'settled', word: 'In force' },
  'set-aside': { tone: 'neutral', word: 'Set aside' },
});

export function PlanStateBadge({ state }: { state: PlanState }) {
  const { tone, word } = WORDS[state];
  return <StateBadge tone={tone}>{word}</StateBadge>;
}
