import { describe, expect, it } from 'vitest';
import {
  cleaningProcedureSchema,
  SKELETON_STATES,
  STARTING_PROCEDURES,
} from '@/lib/skeletons/rules/cleaning';
import { canMoveSkeleton, SKELETON_TRANSITIONS } from '@/lib/skeletons/rules/transitions';

describe('cleaning procedures', () => {
  it.each(STARTING_PROCEDURES.map((one) => [one.id, one] as const))('%s is well formed', (_, procedure) => {
    expect(cleaningProcedureSchema.parse(procedure)).toEqual(procedure);
    expect(procedure.steps[0]?.state).toBe('rough-cleaned');
    expect(procedure.steps.at(-1)?.state).toBe('counted');
  });

  it.each(STARTING_PROCEDURES)('$id moves only where a skeleton may go', ({ steps }) => {
    const moves = steps
      .slice(1)
      .map((step, index) => [steps[index]?.state ?? step.state, step.state] as const);
    for (const [from, to] of moves) expect(from === to || canMoveSkeleton(from, to)).toBe(true);
  });

  it('ends each caution that can hurt people by sending them to local rules', () => {
    const harmful = STARTING_PROCEDURES.flatMap(({ steps }) =>
      steps.flatMap(({ cautions }) => cautions),
    ).filter((text) => /gloves|mask|hood|extraction/.test(text));
    expect(harmful.length).toBeGreaterThan(0);
    for (const text of harmful) expect(text).toMatch(/Local rules decide\.$/);
  });

  it('refuses steps that go back or carry one name twice', () => {
    const [beetles] = STARTING_PROCEDURES;
    if (!beetles) throw new Error('no starting procedure');
    const reversed = { ...beetles, steps: [...beetles.steps].reverse() };
    const doubled = { ...beetles, steps: beetles.steps.map((step) => ({ ...step, id: 'same' })) };
    expect(cleaningProcedureSchema.safeParse(reversed).success).toBe(false);
    expect(cleaningProcedureSchema.safeParse(doubled).success).toBe(false);
  });
});

describe('the states of a skeleton', () => {
  it('lead on to the shelf in order', () => {
    for (const [index, state] of SKELETON_STATES.entries()) {
      const next = SKELETON_STATES[index + 1];
      if (next) expect(canMoveSkeleton(state, next)).toBe(true);
    }
  });

  it.each([
    ['rough-cleaned', 'shelved'],
    ['cleaning', 'pest-freeze'],
    ['dry', 'counted'],
    ['dry', 'shelved'],
    ['shelved', 'cleaning'],
  ] as const)('never %s to %s', (from, to) => {
    expect(canMoveSkeleton(from, to)).toBe(false);
  });

  it('reach the shelf only by the pest freezer', () => {
    const reach = (from: string, seen: Set<string>): Set<string> => {
      if (from === 'pest-freeze' || seen.has(from)) return seen;
      seen.add(from);
      for (const to of SKELETON_TRANSITIONS[from as keyof typeof SKELETON_TRANSITIONS]) reach(to, seen);
      return seen;
    };
    expect(reach('rough-cleaned', new Set())).not.toContain('shelved');
  });
});
