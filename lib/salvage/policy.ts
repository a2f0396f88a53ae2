import { type HoldKind, holdKinds } from '@/lib/permits/schema';
import { may, type Role } from '@/lib/platform/permissions';
import { say } from '@/lib/platform/words/say';
import { canLiftHold, stoppedByHolds } from './rules/holds';
import { canMoveSalvage } from './rules/transitions';
import type { FindFacts, SalvageState } from './schema';

type Asker = { personId: string | null; roles: readonly Role[] };

export type FindStanding = {
  state: SalvageState;
  loggedById: string | null;
  coverage: string;
  openHolds: readonly HoldKind[];
  hasFinder: boolean;
  hasUnreportedBand: boolean;
};

/** Holds that only a permit officer may place: they speak of law. */
export const LEGAL_HOLDS: readonly HoldKind[] = ['legal', 'evidence', 'event', 'quarantine', 'contact-first'];

/** What an office or an officer has put in writing; only an officer enters it. */
export const OFFICER_FACTS = [
  'contactDocument',
  'instructionReference',
  'writtenReleaseReference',
  'sourceAuthorised',
  'claims',
] as const satisfies readonly (keyof FindFacts)[];

/** Who may change a record: triage staff any; a volunteer their own until triage begins. */
export const mayChangeFind = (actor: Asker, find: Pick<FindStanding, 'state' | 'loggedById'>): boolean =>
  may(actor, 'salvage.change', { ownerIds: find.state === 'reported' ? [find.loggedById] : [] });

export const mayPlaceHold = (actor: Asker, kind: HoldKind): boolean =>
  may(actor, LEGAL_HOLDS.includes(kind) ? 'salvage.hold-legal' : 'salvage.hold');

export const mayLiftHold = (actor: Asker, kind: HoldKind): boolean =>
  canLiftHold(kind, actor.roles, 'named').allowed;

/** Why a record cannot be accepted as it is; null when nothing stands in the way. */
export function acceptObstacle(find: Pick<FindStanding, 'state' | 'coverage' | 'openHolds'>): string | null {
  if (find.state === 'accepted') return say('It has been accepted already.');
  if (stoppedByHolds(find.openHolds).has('acceptance'))
    return say('It is on hold; the hold must be lifted first.');
  if (!canMoveSalvage(find.state, 'accepted')) return say('Begin triage first.');
  if (find.coverage === 'not-covered') {
    return say('No authority covers it; the permit officer must rule on it first.');
  }
  return null;
}

/** What this person may do next with a record. Pages show no other buttons. */
export function findAbilitiesOf(actor: Asker, find: FindStanding) {
  const triage = may(actor, 'salvage.triage');
  const obstacle = acceptObstacle(find);
  return {
    change: mayChangeFind(actor, find),
    startTriage: triage && canMoveSalvage(find.state, 'in-triage') && find.state !== 'on-hold',
    accept: triage && obstacle === null,
    acceptObstacle: find.state === 'in-triage' || find.state === 'on-hold' ? obstacle : null,
    decline: triage && canMoveSalvage(find.state, 'declined'),
    placeHolds: holdKinds.filter((kind) => mayPlaceHold(actor, kind) && !find.openHolds.includes(kind)),
    handOver: triage,
    reportBand: triage && find.hasUnreportedBand,
    recheck: triage,
    rule: may(actor, 'coverage.rule'),
    enterOfficerFacts: may(actor, 'coverage.rule'),
    seeFinder: find.hasFinder && may(actor, 'finder.see'),
    eraseFinder: find.hasFinder && may(actor, 'finder.erase'),
    store: may(actor, 'storage.move', { ownerIds: [] }),
  };
}
