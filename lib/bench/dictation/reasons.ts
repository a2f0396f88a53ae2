import type { NotUnderstoodReason } from '@/lib/bench/dictation/sheet';

/** What to tell the person about a piece that was not understood. */
export const REASON_TEXTS: Readonly<Record<NotUnderstoodReason, string>> = {
  'unknown-words': 'Not a field and not a value.',
  'no-value': 'The field was understood, its value was not.',
  'ambiguous-number': 'This number can be read in two ways. Say it without a thousands mark.',
  'outside-limits': 'No bird has this value. Check the figure and the unit.',
  'unit-mismatch': 'This unit does not belong to this field.',
  'which-measure': 'Say which measure: exposed culmen, bill from nostril, bill to skull, bill depth …',
  'too-long': 'The line is too long; the rest was left out.',
};
