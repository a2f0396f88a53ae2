import type { SalvageState } from '../schema';

/** What may follow what. A decline can be taken up again; an accepted record only goes back on hold. */
export const salvageTransitions: Record<SalvageState, readonly SalvageState[]> = {
  reported: ['in-triage'],
  'in-triage': ['accepted', 'declined', 'on-hold'],
  'on-hold': ['in-triage', 'declined'],
  accepted: ['on-hold'],
  declined: ['in-triage'],
};

export function canMoveSalvage(from: SalvageState, to: SalvageState): boolean {
  return salvageTransitions[from].includes(to);
}
