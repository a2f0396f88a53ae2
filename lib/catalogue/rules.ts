import { phrases, say } from '@/lib/platform/words/say';
import type { MaterialKind } from '@/lib/queue/schema';
import type { ReviewRemark, ReviewState } from './schema';

export const REVIEW_ACTS = ['send', 'take-back', 'return', 'approve', 'amend'] as const;
export type ReviewAct = (typeof REVIEW_ACTS)[number];

/** The one table of review: act → from → to. What is not in it is forbidden; the database has the same. */
export const REVIEW_TRANSITIONS: Record<ReviewAct, Partial<Record<ReviewState, ReviewState>>> = {
  send: { draft: 'in-review', returned: 'in-review' },
  'take-back': { 'in-review': 'draft' },
  return: { 'in-review': 'returned' },
  approve: { 'in-review': 'approved' },
  // A locked record changes by amendments only, and stays approved.
  amend: { approved: 'approved' },
};

export type ReviewMove = { ok: true; to: ReviewState } | { ok: false; code: string; reason: string };

const STATE_WORDS: Record<ReviewState, string> = phrases({
  draft: 'a draft',
  'in-review': 'in review',
  returned: 'returned with remarks',
  approved: 'approved and locked',
});
const ACT_WORDS: Record<ReviewAct, string> = phrases({
  send: 'sent to review',
  'take-back': 'taken back',
  return: 'returned',
  approve: 'approved',
  amend: 'amended',
});

/** Whether a bench record may take this step, and where it then is. Never throws. */
export function moveReview(from: ReviewState, act: ReviewAct): ReviewMove {
  const to = REVIEW_TRANSITIONS[act][from];
  if (to !== undefined) return { ok: true, to };
  return {
    ok: false,
    code: 'not-from-here',
    reason: say('A record that is {state_words} cannot be {act_words}.', {
      state_words: STATE_WORDS[from],
      act_words: ACT_WORDS[act],
    }),
  };
}

/** The steps open to a record now, in the order of the table. */
export const reviewActs = (from: ReviewState): ReviewAct[] =>
  REVIEW_ACTS.filter((act) => moveReview(from, act).ok);

/** What a reviewer decides upon. */
export type ReviewFacts = {
  state: ReviewState;
  /** Everybody who worked on the bird: preparator, scribe, co-workers. */
  workerIds: readonly string[];
  /** Elements with two places, none, or short of a portion, as sentences; and the preparator's explanation. */
  boneImbalances: readonly string[];
  boneExplanation: string | null;
  sex: 'female' | 'male' | 'undetermined' | null;
  /** Entries that speak for the sex (gonads, oviduct, plumage), and the reason where it could not be told. */
  sexingEvidence: number;
  sexReason: string | null;
  hasTaxon: boolean;
  foundOn: string | null;
  locality: string | null;
  materialKinds: readonly MaterialKind[];
  holds: readonly string[];
  coverage: 'covered' | 'needs-attention' | 'not-covered' | 'unchecked';
  coverageRuled: boolean;
  /** Warnings of the bench that nobody has confirmed or explained. */
  openWarnings: readonly string[];
  /** Remarks of the last return that have not been answered. */
  openRemarks: readonly ReviewRemark[];
};

export type ReviewPoint = { code: string; field: string | null; sentence: string };

const point = (code: string, field: string | null, sentence: string): ReviewPoint => ({
  code,
  field,
  sentence,
});

function boneBookPoint({ boneImbalances, boneExplanation }: ReviewFacts): ReviewPoint[] {
  if (boneImbalances.length === 0 || boneExplanation?.trim()) return [];
  const first = boneImbalances.slice(0, 3).join('; ');
  const more =
    boneImbalances.length > 3 ? say(' and {length} more', { length: boneImbalances.length - 3 }) : '';
  return [
    point(
      'bone-book',
      'bones',
      say('The bone book does not balance and is not explained: {first}{more}.', { first, more }),
    ),
  ];
}

function sexPoint({ sex, sexingEvidence, sexReason }: ReviewFacts): ReviewPoint[] {
  if (sex === null)
    return [point('no-sex', 'sex', say('Sex is not recorded: say undetermined, and why, if it is.'))];
  if (sex === 'undetermined')
    return sexReason?.trim() || sexingEvidence > 0
      ? []
      : [
          point(
            'no-sex-reason',
            'sex',
            say('Sex undetermined: say what was looked for and why it could not be told.'),
          ),
        ];
  return sexingEvidence > 0
    ? []
    : [point('no-sexing-evidence', 'sex', say('Sexed as {sex} without any evidence recorded.', { sex }))];
}

function originPoints({ hasTaxon, foundOn, locality, materialKinds }: ReviewFacts): ReviewPoint[] {
  return [
    ...(hasTaxon
      ? []
      : [point('no-taxon', 'taxon', say('No identification: give the lowest taxon that is certain.'))]),
    ...(foundOn ? [] : [point('no-date', 'foundOn', say('The date of finding is missing.'))]),
    ...(locality?.trim() ? [] : [point('no-place', 'locality', say('The place of finding is missing.'))]),
    ...(materialKinds.some((kind) => kind !== 'carcass')
      ? []
      : [point('no-material', null, say('Nothing was kept of this bird.'))]),
  ];
}

function lawPoints({ holds, coverage, coverageRuled }: ReviewFacts): ReviewPoint[] {
  const onHold = holds.map((hold) => point('on-hold', null, say('On hold: {hold}.', { hold })));
  if (coverage === 'covered' || coverageRuled) return onHold;
  const sentence = {
    'needs-attention': say('Its permit coverage needs the permit officer’s ruling.'),
    'not-covered': say('No authority covers it: the permit officer decides.'),
    unchecked: say('Its permit coverage has not been checked.'),
  }[coverage];
  return [...onHold, point('coverage', null, sentence)];
}

/**
 * What stands in the way of approval (blocks), and what the reviewer should have seen but may approve with (notes).
 * @param reviewerId the person who would approve
 */
export function reviewPoints(
  facts: ReviewFacts,
  reviewerId: string,
): { blocks: ReviewPoint[]; notes: ReviewPoint[] } {
  const own = facts.workerIds.includes(reviewerId);
  const remarks = facts.openRemarks.map(({ field, remark }) =>
    point('open-remark', field, say('Not answered: {remark}', { remark })),
  );
  const explained = facts.boneExplanation?.trim();
  return {
    blocks: [
      ...(own
        ? [point('own-record', null, say('Nobody approves their own work: another curator must.'))]
        : []),
      ...boneBookPoint(facts),
      ...sexPoint(facts),
      ...originPoints(facts),
      ...lawPoints(facts),
    ],
    notes: [
      ...(facts.boneImbalances.length > 0 && explained
        ? [
            point(
              'bone-book-explained',
              'bones',
              say('The bone book does not balance; explained: {explained}', { explained }),
            ),
          ]
        : []),
      ...facts.openWarnings.map((warning) => point('open-warning', null, warning)),
      ...remarks,
    ],
  };
}

/** Blocks that words cannot remove: somebody else must act first (another curator, whoever lifts the hold, the officer). */
const NEVER_EXPLAINED = new Set(['own-record', 'on-hold', 'coverage']);

/** Whether a block may be passed by an explanation that is kept with the approval. */
export const isExplainable = (code: string): boolean => !NEVER_EXPLAINED.has(code);

/**
 * Whether this person may approve now: the state, and every block either gone or explained in words.
 * @param explanations by the code of the block
 */
export function mayApprove(
  facts: ReviewFacts,
  reviewerId: string,
  explanations: Readonly<Record<string, string>> = {},
): ReviewMove {
  const move = moveReview(facts.state, 'approve');
  if (!move.ok) return move;
  const isExplained = ({ code }: ReviewPoint) => isExplainable(code) && Boolean(explanations[code]?.trim());
  const block = reviewPoints(facts, reviewerId).blocks.find((one) => !isExplained(one));
  return block === undefined ? move : { ok: false, code: block.code, reason: block.sentence };
}

/** Where a bird is in its life, in one word; the search's row in the database says the same. */
export function stageOf(bird: {
  carcassState: string;
  benchState: string | null;
  isCatalogued: boolean;
  disposition: string | null;
}): string {
  if (bird.isCatalogued) return bird.disposition === null ? 'catalogued' : 'deaccessioned';
  return bird.benchState === 'in-review' || bird.benchState === 'returned'
    ? bird.benchState
    : bird.carcassState;
}
