import type { FieldProblem } from '@/lib/platform/errors';

export type LotFacts = {
  salvageId: string;
  number: string;
  state: string;
  accessionNumber: string | null;
  coverage: string;
  ruled: boolean;
  receivedOn: string;
  openHolds: number;
};

/**
 * Why these salvage records may not enter an accession together; empty when they may. Only an accepted bird, held
 * under an authority (or an officer's ruling), free of holds and not yet accessioned, can be acquired.
 */
export function accessionProblems(lots: readonly LotFacts[], receivedOn: string): FieldProblem[] {
  return lots.flatMap((lot) => {
    const say = (message: string): FieldProblem => ({ path: `salvageIds.${lot.salvageId}`, message });
    if (lot.accessionNumber !== null)
      return [say(`${lot.number} is already in accession ${lot.accessionNumber}.`)];
    if (lot.state !== 'accepted') return [say(`${lot.number} has not been accepted in triage yet.`)];
    if (lot.openHolds > 0) return [say(`${lot.number} is on hold; the hold must be lifted first.`)];
    if (lot.coverage !== 'covered' && !lot.ruled) {
      return [
        say(
          `${lot.number} is not shown to be covered by a permit; the permit officer must rule on it first.`,
        ),
      ];
    }
    if (receivedOn < lot.receivedOn)
      return [say(`${lot.number} arrived on ${lot.receivedOn}, after this date.`)];
    return [];
  });
}
