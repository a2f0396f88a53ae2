import 'server-only';
import { announce } from '@/lib/notices/public';
import type { CoverageResult, HoldKind } from '@/lib/permits/public';
import type { Work } from '@/lib/platform/tx';
import { salvageEvents } from '../events';
import { type Find, insertHold, keepVerdict, updateHold } from '../repo/records';
import { stoppedByHolds } from '../rules/holds';
import type { SalvageState } from '../schema';
import { subjectOf } from './load';
import { openHolds, openKinds } from './shape';

/** What brought the check about: somebody changed the find, or the law and the permits changed. */
export type CheckCause = 'facts' | 'law' | 'ruling';

export type WantedHold = { kind: HoldKind; reason: string; ruleCode: string; tellWhom: string | null };

/** The holds a verdict asks for, one a kind, with the first reason that asks. */
export function holdsWantedBy(result: CoverageResult): WantedHold[] {
  return result.holds.flatMap((kind) => {
    const reason = result.reasons.find(({ hold }) => hold === kind);
    return reason === undefined
      ? []
      : [{ kind, reason: reason.message, ruleCode: reason.code, tellWhom: reason.whoMustBeTold }];
  });
}

/**
 * Kinds that a check may take back by itself once nothing asks for them. Changing the facts never takes back a hold of
 * the law: whoever writes another name on a listed bird does not release it.
 */
const TAKEN_BACK: Record<CheckCause, readonly HoldKind[]> = {
  facts: ['identification', 'quarantine'],
  ruling: ['identification', 'quarantine'],
  law: ['identification', 'quarantine', 'legal'],
};

/**
 * Places what a check asks for and takes back what it no longer asks for. A person's lifting is respected. Returns whether
 * any hold was placed or lifted.
 */
export async function syncHolds(
  work: Work,
  find: Find,
  wanted: readonly WantedHold[],
  cause: CheckCause,
): Promise<boolean> {
  const open = openHolds(find);
  let changed = false;
  for (const hold of wanted) {
    const known = find.holds.some(
      ({ kind, ruleCode, liftedAt, liftedBy }) =>
        kind === hold.kind && (liftedAt === null || (liftedBy !== null && ruleCode === hold.ruleCode)),
    );
    if (known) continue;
    await addHold(work, find, { ...hold, placedBy: null });
    changed = true;
  }
  for (const hold of open) {
    const kind = hold.kind as HoldKind;
    const byCheck = hold.placedBy === null && hold.ruleCode !== null;
    if (!byCheck || !TAKEN_BACK[cause].includes(kind) || wanted.some((one) => one.kind === kind)) continue;
    await takeOffHold(work, find, {
      id: hold.id,
      kind,
      note: 'The check no longer asks for it.',
      byCheck: true,
    });
    changed = true;
  }
  return changed;
}

export async function addHold(
  work: Work,
  find: Find,
  hold: Omit<WantedHold, 'ruleCode'> & { ruleCode: string | null; placedBy: string | null },
): Promise<void> {
  await insertHold(work.db, { ...hold, salvageId: find.id, placedAt: work.now });
  work.audit(
    salvageEvents.make('salvage.hold-placed', subjectOf(find, hold.reason), {
      number: find.number,
      hold: hold.kind,
      tellWhom: hold.tellWhom,
      byCheck: hold.placedBy === null,
    }),
  );
  announce(work, {
    subjectType: 'salvage',
    subjectId: find.id,
    kind: 'salvage.hold-placed',
    facts: { find: find.number, hold: hold.kind, tellOutside: hold.tellWhom !== null },
    to: { roles: ['permit-officer', 'registrar'] },
  });
}

/** Lifts a hold; false when somebody lifted it a moment ago. */
export async function takeOffHold(
  work: Work,
  find: Find,
  hold: { id: string; kind: HoldKind; note: string; document?: string | null; byCheck?: boolean },
): Promise<boolean> {
  const { document = null, byCheck = false } = hold;
  const lifted = await updateHold(work.db, hold.id, {
    liftedAt: work.now,
    liftedBy: byCheck ? null : work.actor.personId,
    liftNote: hold.note,
    document,
  });
  if (lifted === 0) return false;
  work.audit(
    salvageEvents.make('salvage.hold-lifted', subjectOf(find, hold.note), {
      number: find.number,
      hold: hold.kind,
      document,
      byCheck,
    }),
  );
  return true;
}

/** A record whose holds stop acceptance is on hold; when they are gone it is back in triage. */
export async function settleState(work: Work, find: Find): Promise<void> {
  const state = find.state as SalvageState;
  const stopped = stoppedByHolds(openKinds(find)).has('acceptance');
  if (stopped && (state === 'in-triage' || state === 'accepted')) {
    await keepVerdict(work.db, find.id, { state: 'on-hold' });
  } else if (!stopped && state === 'on-hold') {
    await keepVerdict(work.db, find.id, { state: 'in-triage' });
  }
}
