import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import {
  mayApprove,
  moveReview,
  REVIEW_ACTS,
  type ReviewFacts,
  reviewActs,
  reviewPoints,
} from '@/lib/catalogue/rules';
import { REVIEW_STATES, type ReviewState } from '@/lib/catalogue/schema';

const ALLOWED = [
  'draft send in-review',
  'in-review take-back draft',
  'in-review return returned',
  'in-review approve approved',
  'returned send in-review',
  'approved amend approved',
];

describe('states of a review', () => {
  it('allows exactly the steps of the list', () => {
    const allowed = REVIEW_STATES.flatMap((from) =>
      REVIEW_ACTS.flatMap((act) => {
        const move = moveReview(from, act);
        return move.ok ? [`${from} ${act} ${move.to}`] : [];
      }),
    );
    expect(allowed).toEqual(ALLOWED);
  });

  it('on a random walk: once approved, only amended; approved only from review', () => {
    fc.assert(
      fc.property(fc.array(fc.constantFrom(...REVIEW_ACTS), { maxLength: 50 }), (walk) => {
        let state: ReviewState = 'draft';
        for (const act of walk) {
          const move = moveReview(state, act);
          expect(reviewActs(state).includes(act)).toBe(move.ok);
          if (!move.ok) continue;
          expect(ALLOWED).toContain(`${state} ${act} ${move.to}`);
          if (move.to === 'approved') expect(['in-review', 'approved']).toContain(state);
          state = move.to;
        }
      }),
    );
  });
});

const facts = (change: Partial<ReviewFacts> = {}): ReviewFacts => ({
  state: 'in-review',
  workerIds: ['ines', 'nils'],
  boneImbalances: [],
  boneExplanation: null,
  sex: 'female',
  sexingEvidence: 1,
  sexReason: null,
  hasTaxon: true,
  foundOn: '2026-03-01',
  locality: 'Harbour bridge',
  materialKinds: ['skin', 'skeleton', 'vial'],
  holds: [],
  coverage: 'covered',
  coverageRuled: false,
  openWarnings: [],
  openRemarks: [],
  ...change,
});

describe('what stands in the way of approval', () => {
  it.each<[string, Partial<ReviewFacts>, string[]]>([
    ['nothing', {}, []],
    ['own record', { workerIds: ['mira'] }, ['own-record']],
    ['bone book out of balance', { boneImbalances: ['left ulna is nowhere'] }, ['bone-book']],
    [
      'explained by blanks',
      { boneImbalances: ['left ulna is nowhere'], boneExplanation: '  ' },
      ['bone-book'],
    ],
    ['explained', { boneImbalances: ['left ulna is nowhere'], boneExplanation: 'Crushed, discarded.' }, []],
    ['sexed without evidence', { sexingEvidence: 0 }, ['no-sexing-evidence']],
    ['sex missing', { sex: null }, ['no-sex']],
    ['undetermined without reason', { sex: 'undetermined', sexingEvidence: 0 }, ['no-sex-reason']],
    [
      'undetermined with reason',
      { sex: 'undetermined', sexingEvidence: 0, sexReason: 'Gonads destroyed.' },
      [],
    ],
    [
      'no taxon, date, place',
      { hasTaxon: false, foundOn: null, locality: ' ' },
      ['no-taxon', 'no-date', 'no-place'],
    ],
    ['only the carcass left', { materialKinds: ['carcass'] }, ['no-material']],
    ['on hold', { holds: ['evidence'] }, ['on-hold']],
    ['coverage unchecked', { coverage: 'unchecked' }, ['coverage']],
    ['not covered', { coverage: 'not-covered' }, ['coverage']],
    ['not covered, but ruled upon', { coverage: 'not-covered', coverageRuled: true }, []],
  ])('%s', (_name, change, codes) => {
    const { blocks } = reviewPoints(facts(change), 'mira');
    expect(blocks.map((point) => point.code)).toEqual(codes);
    const verdict = mayApprove(facts(change), 'mira');
    expect(verdict.ok ? [] : [verdict.code]).toEqual(codes.slice(0, 1));
  });

  it('shows warnings, open remarks and the explanation without blocking', () => {
    const { blocks, notes } = reviewPoints(
      facts({
        openWarnings: ['Wing 131 mm: longer than all 24 here.'],
        openRemarks: [{ field: 'mass', remark: 'With or without the crop?' }],
        boneImbalances: ['left ulna is nowhere'],
        boneExplanation: 'Crushed.',
      }),
      'mira',
    );
    expect(blocks).toEqual([]);
    expect(notes.map((point) => point.code)).toEqual(['bone-book-explained', 'open-warning', 'open-remark']);
  });

  it('approves only what is in review', () => {
    expect(mayApprove(facts({ state: 'draft' }), 'mira')).toMatchObject({ code: 'not-from-here' });
  });
});
