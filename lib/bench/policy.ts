import { isOpenForEntries } from '@/lib/bench/rules';
import type { BenchState } from '@/lib/bench/schema';
import { may, type Role } from '@/lib/platform/permissions';

export interface BenchFacts {
  state: BenchState;
  carcassState: string;
  preparatorId: string;
  scribeId: string | null;
}

/** The pair at the bench: whose own work the record is. */
export const workersOf = ({ preparatorId, scribeId }: Pick<BenchFacts, 'preparatorId' | 'scribeId'>) => [
  preparatorId,
  scribeId,
];

/** What a person may do next with a record in this state. */
export function abilitiesOf(
  actor: { personId: string | null; roles: readonly Role[] },
  facts: BenchFacts,
): { write: boolean; divide: boolean; send: boolean; takeBack: boolean; manageStyles: boolean } {
  const ownerIds = workersOf(facts);
  const open = isOpenForEntries(facts.state);
  const write = open && may(actor, 'bench.write', { ownerIds });
  const divided = facts.carcassState === 'prepared' || facts.carcassState === 'discarded';
  return {
    write,
    divide: write && facts.carcassState === 'on-the-bench',
    send: open && divided && may(actor, 'bench.send', { ownerIds }),
    takeBack: facts.state === 'in-review' && may(actor, 'bench.send', { ownerIds }),
    manageStyles: may(actor, 'bench.manage'),
  };
}
