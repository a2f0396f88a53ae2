import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { digestJson } from '@/lib/reports/digest';
import { canonicalJson } from '@/lib/reports/rules/canonical-json';
import { diffReports } from '@/lib/reports/rules/differences';
import { computeReport } from '@/lib/reports/rules/ledger';
import { makeBird, makeEvent, makeInput } from './build';

describe('canonical JSON and its digest', () => {
  it('sorts keys by code unit and writes literals as RFC 8785 section 3.2 does', () => {
    // From memory of the sample in RFC 8785 section 3.2.2: numbers in shortest form, strings minimally escaped.
    const sample = { numbers: [333333333.3333333, 1e30, 4.5, 2e-3, 1e-27], literals: [null, true, false] };
    expect(canonicalJson(sample)).toBe(
      '{"literals":[null,true,false],"numbers":[333333333.3333333,1e+30,4.5,0.002,1e-27]}',
    );
    expect(canonicalJson({ b: 1, a: undefined, é: 2, B: 3 })).toBe('{"B":3,"b":1,"é":2}');
  });

  it('SHA-256 of the empty object', () => {
    // Computed beside with the command sha256sum over the two bytes {}.
    expect(digestJson({})).toBe('44136fa355b3678a1146ad16f7e8649e94fb4fc21fe77e8310c060f61caaff8a');
  });

  it('refuses what has no form in JSON', () => {
    expect(() => canonicalJson(Number.NaN)).toThrow(TypeError);
    expect(() => canonicalJson({ when: () => 1 })).toThrow(TypeError);
  });

  it('does not depend on the order of keys, and parses back to the same value', () => {
    fc.assert(
      fc.property(fc.dictionary(fc.string(), fc.jsonValue()), (value) => {
        const turned = Object.fromEntries(Object.entries(value).reverse());
        expect(canonicalJson(turned)).toBe(canonicalJson(value));
        expect(JSON.parse(canonicalJson(value))).toEqual(JSON.parse(JSON.stringify(value)));
      }),
    );
  });
});

describe('two versions of a report', () => {
  const birds = [makeBird('a'), makeBird('b')];
  const salvaged = ['a', 'b'].map((birdId) =>
    makeEvent('salvaged', birdId, '2024-05-01', { taxon: 'Turdus migratorius' }),
  );
  const gone = makeEvent('transferred', 'b', '2024-06-01', {
    recipient: 'A school',
    recipientAuthority: 'S-2',
  });
  const before = computeReport(makeInput(2024, { birds, events: salvaged }));
  const after = computeReport(makeInput(2024, { birds, events: [...salvaged, gone] }));

  it('the same content has the same digest, another has another', () => {
    const again = computeReport(
      makeInput(2024, { birds: [...birds].reverse(), events: [...salvaged].reverse() }),
    );
    expect(digestJson(again)).toBe(digestJson(before));
    expect(digestJson(after)).not.toBe(digestJson(before));
  });

  it('the difference names the line, the fields and the row', () => {
    expect(diffReports(before, before).same).toBe(true);
    const difference = diffReports(before, after);
    expect(difference.changed.map((line) => line.birdId)).toEqual(['b']);
    expect(difference.changed[0]?.changes).toContainEqual({
      field: 'outcome',
      from: 'on-hand',
      to: 'transferred',
    });
    expect(difference.rows[0]?.changes).toEqual([
      { field: 'transferred', from: 0, to: 1 },
      { field: 'onHand', from: 2, to: 1 },
    ]);
  });
});
