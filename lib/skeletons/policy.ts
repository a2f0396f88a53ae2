import { say } from '@/lib/platform/words/say';
/** What decides who may write in a bird's bone book. */
export interface BookFacts {
  /** Null before the bench record was started. */
  recordState: string | null;
}

/** Why nobody may write in the book now; null when it is open. The same doors as the bench record's fields have. */
export function bookLock({ recordState }: BookFacts): string | null {
  switch (recordState) {
    case null:
      return say('The bench record of this bird has not been started yet.');
    case 'in-review':
      return say('The record is in review; a curator can return it.');
    case 'approved':
      return say('The record is approved and locked; later changes are amendments with a reason.');
    default:
      return null;
  }
}
