import { say } from '@/lib/platform/words/say';
import type { HandOver } from '../schema';

/** Breaks in the custody of a bird: whoever hands over must be whoever last received it, and days go forward. */
export function findCustodyGaps(finderName: string | null, handOvers: HandOver[]): string[] {
  const gaps: string[] = [];
  let holder = finderName;
  let last: string | null = null;
  for (const step of handOvers) {
    if (holder !== null && step.fromName.trim() !== holder.trim()) {
      gaps.push(
        say('{on}: handed over by {fromName}, but {holder} had it', {
          on: step.on,
          fromName: step.fromName,
          holder,
        }),
      );
    }
    if (last !== null && step.on < last)
      gaps.push(say('{on}: dated before the step of {last}', { on: step.on, last }));
    holder = step.toName;
    last = step.on;
  }
  return gaps;
}
