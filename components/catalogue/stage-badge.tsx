import type { Tone } from '@/components/ui/colours';
import { StateBadge } from '@/components/ui/state-badge';
import { sayWord } from '@/lib/platform/words/say';

const TONES: Record<string, Tone> = {
  catalogued: 'settled',
  'in-review': 'lead',
  returned: 'attention',
  deaccessioned: 'stop',
  discarded: 'stop',
};

/** Where a bird is in its life, in one word. */
export function StageBadge({ stage }: { stage: string }) {
  return <StateBadge tone={TONES[stage] ?? 'neutral'}>{sayWord(stage)}</StateBadge>;
}
