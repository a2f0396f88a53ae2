import type { SalvageState } from '../schema';

/** What becomes of a carcass in the end: nobody will ask its finder anything about it for the lab's sake. */
const SETTLED_BIRDS = ['prepared', 'discarded', 'transferred', 'released'] as const;

/**
 * Whether a find is settled: declined, or accepted with its bird prepared or gone, and on hold by nobody. Pure.
 */
export function isSettled(find: {
  state: SalvageState;
  birdState: string | null;
  openHolds: number;
}): boolean {
  if (find.openHolds > 0) return false;
  if (find.state === 'declined') return true;
  return find.state === 'accepted' && (SETTLED_BIRDS as readonly (string | null)[]).includes(find.birdState);
}
