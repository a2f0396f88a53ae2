import type { Tone } from '@/components/ui/colours';
import type { SalvageState } from '@/lib/salvage/schema';
import type { SalvageRow } from '@/lib/salvage/wire';

export const STATE_TONES: Record<SalvageState, Tone> = {
  reported: 'attention',
  'in-triage': 'attention',
  'on-hold': 'stop',
  accepted: 'settled',
  declined: 'neutral',
};

export const COVERAGE_TONES: Record<SalvageRow['coverage'], Tone> = {
  covered: 'settled',
  'needs-attention': 'attention',
  'not-covered': 'stop',
  unchecked: 'neutral',
};

export const OUTCOME_TONES: Record<'pass' | 'note' | 'attention' | 'fail', Tone> = {
  pass: 'settled',
  note: 'neutral',
  attention: 'attention',
  fail: 'stop',
};
