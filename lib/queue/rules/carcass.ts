import { say, sayCode } from '@/lib/platform/words/say';
import { CARCASS_STATES, type CarcassState, type HoldKind } from '../schema';

/** What can happen to a carcass. `run-out` is a claim that came to its end unused. */
export const CARCASS_ACTS = [
  'freeze',
  'queue',
  'leave-queue',
  'take',
  'put-back',
  'run-out',
  'hand-over',
  'take-out',
  'start',
  'freeze-again',
  'finish',
  'discard',
  'transfer',
  'release',
] as const;
export type CarcassAct = (typeof CARCASS_ACTS)[number];

/** The one table of carcass states: act → from → to. What is not in it is forbidden; the database has the same. */
export const CARCASS_TRANSITIONS: Record<CarcassAct, Partial<Record<CarcassState, CarcassState>>> = {
  freeze: { 'in-custody': 'in-freezer' },
  // A bird that comes in fresh may be queued without having been frozen.
  queue: { 'in-custody': 'queued', 'in-freezer': 'queued' },
  'leave-queue': { queued: 'in-freezer' },
  take: { queued: 'claimed' },
  'put-back': { claimed: 'queued' },
  'run-out': { claimed: 'queued' },
  'hand-over': { claimed: 'claimed', thawing: 'thawing', 'on-the-bench': 'on-the-bench' },
  'take-out': { claimed: 'thawing' },
  // From claimed: the fresh bird, which needs no thawing.
  start: { claimed: 'on-the-bench', thawing: 'on-the-bench' },
  // Stays with its person; one more thaw is counted.
  'freeze-again': { thawing: 'claimed', 'on-the-bench': 'claimed' },
  finish: { 'on-the-bench': 'prepared' },
  discard: {
    'in-custody': 'discarded',
    'in-freezer': 'discarded',
    queued: 'discarded',
    claimed: 'discarded',
    thawing: 'discarded',
    'on-the-bench': 'discarded',
  },
  transfer: { 'in-custody': 'transferred', 'in-freezer': 'transferred', queued: 'transferred' },
  // An authority may ask for a bird at any time before it is prepared.
  release: {
    'in-custody': 'released',
    'in-freezer': 'released',
    queued: 'released',
    claimed: 'released',
    thawing: 'released',
    'on-the-bench': 'released',
  },
};

const WORK: readonly CarcassAct[] = ['take', 'take-out', 'start', 'finish'];

/**
 * What each hold forbids. Storing, putting back and release to an authority are never forbidden. An evidence or legal
 * hold also forbids disposal and transfer until it is lifted in writing.
 */
export const HOLD_FORBIDS: Record<HoldKind, readonly CarcassAct[]> = {
  disease: [...WORK, 'transfer'],
  legal: [...WORK, 'discard', 'transfer'],
  evidence: [...WORK, 'discard', 'transfer'],
  'missing-data': ['take', 'finish', 'discard', 'transfer'],
  thaw: ['take-out'],
};

export type Verdict = { ok: true } | { ok: false; code: string; reason: string };
export type CarcassMove = { ok: true; to: CarcassState } | { ok: false; code: string; reason: string };

/** Whether a carcass may take this step, and where it then is. Never throws; a refusal says why. */
export function moveCarcass(from: CarcassState, act: CarcassAct, holds: readonly HoldKind[]): CarcassMove {
  const to = CARCASS_TRANSITIONS[act][from];
  if (to === undefined)
    return {
      ok: false,
      code: 'not-from-here',
      reason: say('A bird that is {words} cannot {words2}.', { words: sayCode(from), words2: sayCode(act) }),
    };
  const hold = holds.find((kind) => HOLD_FORBIDS[kind].includes(act));
  if (hold !== undefined)
    return {
      ok: false,
      code: 'on-hold',
      reason: say('On hold ({words}): lift the hold first.', { words: sayCode(hold) }),
    };
  return { ok: true, to };
}

/** The acts open to a carcass now, in the order of the table. */
export function carcassActs(from: CarcassState, holds: readonly HoldKind[]): CarcassAct[] {
  return CARCASS_ACTS.filter((act) => moveCarcass(from, act, holds).ok);
}

/** States that nothing leads out of. */
export const FINAL_CARCASS_STATES: readonly CarcassState[] = CARCASS_STATES.filter((state) =>
  CARCASS_ACTS.every((act) => CARCASS_TRANSITIONS[act][state] === undefined),
);
