import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import {
  assignSuffixes,
  CUSTODY_TRANSITIONS,
  type CustodyAct,
  moveCustody,
} from '@/lib/queue/rules/materials';
import { type CustodyState, MATERIAL_KINDS, suffixLettersSchema } from '@/lib/queue/schema';

describe('suffixes of materials', () => {
  const letters = suffixLettersSchema.parse(undefined);
  const made = (kinds: (typeof MATERIAL_KINDS)[number][]) =>
    kinds.map((kind, at) => ({ id: `m${at}`, kind, suffix: null as string | null }));

  it('takes the letters of the kind, vials always numbered, others from the second on', () => {
    const given = assignSuffixes(made(['skin', 'skeleton', 'vial', 'vial', 'wing', 'wing']), letters);
    expect([...given.values()]).toEqual(['S', 'B', 'T1', 'T2', 'W', 'W2']);
  });

  it('never uses a suffix again, also of a material that is gone', () => {
    expect([...assignSuffixes(made(['vial', 'skin']), letters, ['T1', 'S']).values()]).toEqual(['T2', 'S2']);
  });

  it('keeps every suffix that was given and gives no two alike', () => {
    const material = fc.record({
      kind: fc.constantFrom(...MATERIAL_KINDS),
      keep: fc.boolean(),
    });
    fc.assert(
      fc.property(fc.array(material, { maxLength: 15 }), (list) => {
        const first = assignSuffixes(made(list.map((one) => one.kind)), letters);
        const partly = list.map((one, at) => ({
          id: `m${at}`,
          kind: one.kind,
          suffix: one.keep ? (first.get(`m${at}`) ?? null) : null,
        }));
        const second = assignSuffixes(partly, letters);
        expect(new Set(second.values()).size).toBe(list.length);
        for (const { id, suffix } of partly) if (suffix !== null) expect(second.get(id)).toBe(suffix);
      }),
    );
  });

  it('refuses letters that two kinds share', () => {
    expect(suffixLettersSchema.safeParse({ ...letters, skin: 'B' }).success).toBe(false);
  });
});

describe('custody of a material', () => {
  const acts = Object.keys(CUSTODY_TRANSITIONS) as CustodyAct[];
  it.each<[CustodyState, CustodyAct[]]>([
    ['on-shelf', ['lend', 'lose-track', 'deaccession', 'use-up', 'sample', 'move']],
    ['on-loan', ['return', 'lose-track', 'deaccession', 'use-up']],
    ['missing', ['find', 'deaccession']],
    ['used-up', []],
    ['deaccessioned', []],
  ])('%s allows %j', (from, allowed) => {
    expect(acts.filter((act) => moveCustody(from, act).ok)).toEqual(allowed);
  });

  it('cannot be lent, sampled or moved while it is out', () => {
    for (const act of ['lend', 'sample', 'move'] as const)
      expect(moveCustody('on-loan', act)).toMatchObject({
        ok: false,
        reason: 'This material is out on loan.',
      });
  });
});
