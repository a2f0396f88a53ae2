import type { Tone } from '@/components/ui/colours';
import type { BenchState } from '@/lib/bench/schema';
import { phrases } from '@/lib/platform/words/say';

export const STATE_TONES: Record<BenchState, Tone> = {
  draft: 'neutral',
  returned: 'attention',
  'in-review': 'lead',
  approved: 'settled',
};

export const STATE_WORDS: Record<BenchState, string> = phrases({
  draft: 'Draft',
  returned: 'Returned with remarks',
  'in-review': 'In review',
  approved: 'Approved',
});
