import type { Tone } from '@/components/ui/colours';
import type { PermitStanding } from '@/lib/permits/wire';
import { phrases } from '@/lib/platform/words/say';

export const STANDING_TONES: Record<PermitStanding, Tone> = {
  coming: 'neutral',
  'in-force': 'settled',
  ended: 'neutral',
};

export const STANDING_WORDS: Record<PermitStanding, string> = phrases({
  coming: 'Not yet in force',
  'in-force': 'In force',
  ended: 'Ended',
});

const STOPS = new Set(['permit-expired', 'report-overdue', 'quota-used']);
export const warningTone = (code: string): Tone => (STOPS.has(code) ? 'stop' : 'attention');

export const KIND_WORDS = phrases({
  salvage: 'Salvage',
  'scientific-collecting': 'Scientific collecting',
  import: 'Import',
  export: 'Export',
  state: 'State or provincial',
  other: 'Other',
} as const);

/** How a rule of a pack is known. */
export const MARK_WORDS = phrases({
  read: 'read in the text',
  'read-older-edition': 'read in an older edition',
  'read-old-number': 'read under its number before renumbering',
  'opening-read': 'only the opening was read',
  recalled: 'recalled, without a source at hand',
} as const);
