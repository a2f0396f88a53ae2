import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import {
  CARCASS_ACTS,
  type CarcassAct,
  carcassActs,
  FINAL_CARCASS_STATES,
  HOLD_FORBIDS,
  moveCarcass,
} from '@/lib/queue/rules/carcass';
import { CARCASS_STATES, type CarcassState, HOLD_KINDS } from '@/lib/queue/schema';

/** The life of a carcass as the lab describes it, written out a second time, independently of the table. */
const ALLOWED = new Set(
  `in-custody freeze in-freezer
  in-custody queue queued
  in-freezer queue queued
  queued leave-queue in-freezer
  queued take claimed
  claimed put-back queued
  claimed run-out queued
  claimed hand-over claimed
  thawing hand-over thawing
  on-the-bench hand-over on-the-bench
  claimed take-out thawing
  claimed start on-the-bench
  thawing start on-the-bench
  thawing freeze-again claimed
  on-the-bench freeze-again claimed
  on-the-bench finish prepared
  in-custody discard discarded
  in-freezer discard discarded
  queued discard discarded
  claimed discard discarded
  thawing discard discarded
  on-the-bench discard discarded
  in-custody transfer transferred
  in-freezer transfer transferred
  queued transfer transferred
  in-custody release released
  in-freezer release released
  queued release released
  claimed release released
  thawing release released
  on-the-bench release released`
    .split('\n')
    .map((line) => line.trim()),
);

describe('states of a carcass', () => {
  it('allows exactly the steps of the list', () => {
    const allowed = CARCASS_STATES.flatMap((from) =>
      CARCASS_ACTS.flatMap((act) => {
        const move = moveCarcass(from, act, []);
        return move.ok ? [`${from} ${act} ${move.to}`] : [];
      }),
    );
    expect(new Set(allowed)).toEqual(ALLOWED);
  });

  it('ends in four states, of which nothing leads out', () => {
    expect(FINAL_CARCASS_STATES).toEqual(['prepared', 'discarded', 'transferred', 'released']);
  });

  it('never leaves the table on a random walk, and never works on a bird on hold', () => {
    fc.assert(
      fc.property(
        fc.array(
          fc.record({
            act: fc.constantFrom(...CARCASS_ACTS),
            hold: fc.option(fc.constantFrom(...HOLD_KINDS)),
          }),
          {
            maxLength: 60,
          },
        ),
        (walk) => {
          let state: CarcassState = 'in-custody';
          let wasOnBench = false;
          for (const { act, hold } of walk) {
            const holds = hold === null ? [] : [hold];
            const move = moveCarcass(state, act, holds);
            if (!move.ok) {
              expect(move.reason).not.toBe('');
              expect(carcassActs(state, holds)).not.toContain(act);
              continue;
            }
            expect(ALLOWED).toContain(`${state} ${act} ${move.to}`);
            expect(FINAL_CARCASS_STATES).not.toContain(state);
            if (hold !== null) expect(HOLD_FORBIDS[hold]).not.toContain(act);
            if (move.to === 'on-the-bench') wasOnBench = true;
            if (move.to === 'prepared') expect(wasOnBench).toBe(true);
            state = move.to;
          }
        },
      ),
    );
  });

  it.each<[CarcassAct, CarcassState]>([
    ['take', 'queued'],
    ['discard', 'in-freezer'],
    ['transfer', 'in-freezer'],
    ['finish', 'on-the-bench'],
  ])('an evidence hold forbids %s, but never the release to the authority', (act, from) => {
    expect(moveCarcass(from, act, ['evidence'])).toMatchObject({ ok: false, code: 'on-hold' });
    expect(moveCarcass(from, 'release', ['evidence'])).toEqual({ ok: true, to: 'released' });
  });

  it('lets a bird be stored and put back whatever holds it', () => {
    expect(moveCarcass('in-custody', 'freeze', [...HOLD_KINDS]).ok).toBe(true);
    expect(moveCarcass('claimed', 'put-back', [...HOLD_KINDS]).ok).toBe(true);
  });
});
