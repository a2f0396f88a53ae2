import { describe, expect, it } from 'vitest';
import { type SKELETON_STATES, STARTING_PROCEDURES } from '@/lib/skeletons/rules/cleaning';
import {
  type CleaningTarget,
  entryStep,
  findTarget,
  targetsFrom,
  usualTarget,
} from '@/lib/skeletons/rules/progress';

const named = (id: string) => {
  const procedure = STARTING_PROCEDURES.find((one) => one.id === id);
  if (!procedure) throw new Error(`no ${id}`);
  return procedure;
};
const idOf = (target: CleaningTarget | null) =>
  target === null ? null : target.kind === 'shelf' ? 'shelf' : target.step.id;

describe('a skeleton on its way through a procedure', () => {
  it.each(STARTING_PROCEDURES.map((one) => [one.id, one] as const))(
    '%s: by the usual next step from flesh to the shelf, every step once',
    (_, procedure) => {
      let place = { state: 'rough-cleaned' as (typeof SKELETON_STATES)[number], stepId: 'flesh' };
      const taken = ['flesh'];
      for (;;) {
        const target = usualTarget(procedure, place);
        if (target === null || target.kind === 'shelf') {
          expect(target).toEqual({ kind: 'shelf' });
          break;
        }
        taken.push(target.step.id);
        place = { state: target.step.state, stepId: target.step.id };
      }
      expect(taken).toEqual(procedure.steps.map(({ id }) => id));
    },
  );

  it('may be degreased again, and goes back to cleaning from dry, never straight to the shelf', () => {
    const beetles = named('beetles');
    const fromRinse = targetsFrom(beetles, { state: 'cleaning', stepId: 'rinse' }).map(idOf);
    expect(fromRinse).toContain('degrease');
    expect(fromRinse).not.toContain('rinse');
    const fromDry = targetsFrom(beetles, { state: 'dry', stepId: 'dry' }).map(idOf);
    expect(fromDry).toContain('degrease');
    expect(fromDry).not.toContain('shelf');
    expect(targetsFrom(beetles, { state: 'counted', stepId: 'number' }).map(idOf)).toContain('shelf');
  });

  it('goes only where the table lets it', () => {
    const maceration = named('maceration');
    const fleshed = { state: 'rough-cleaned', stepId: 'flesh' } as const;
    expect(idOf(findTarget(maceration, fleshed, 'next'))).toBe('maceration');
    expect(findTarget(maceration, fleshed, 'number')).toBeNull();
    expect(findTarget(maceration, fleshed, 'shelf')).toBeNull();
    expect(findTarget(maceration, fleshed, 'beetles')).toBeNull();
    expect(usualTarget(maceration, { state: 'cleaning', stepId: 'beetles' })).toBeNull();
    expect(usualTarget(maceration, { state: 'rough-cleaned', stepId: null })).toBeNull();
  });

  it('takes up a procedure at the first step that is not behind it', () => {
    expect(entryStep(named('beetles'), 'rough-cleaned')?.id).toBe('flesh');
    expect(entryStep(named('enzymes'), 'cleaning')?.id).toBe('enzymes');
    expect(entryStep(named('enzymes'), 'pest-freeze')?.id).toBe('pest-freeze');
    expect(entryStep(named('enzymes'), 'shelved')?.id).toBe('pest-freeze');
    const short = { ...named('enzymes'), steps: named('enzymes').steps.slice(0, 3) };
    expect(entryStep(short, 'dry')).toBeNull();
  });
});
