import { describe, expect, it } from 'vitest';
import { computeReport } from '@/lib/reports/rules/ledger';
import { checkReadyToSign } from '@/lib/reports/rules/warnings';
import type { LedgerBird, LedgerInput, SalvageReport, StockEvent } from '@/lib/reports/schema';
import { authority, makeBird, makeEvent, makeInput } from './build';

const robin = 'Turdus migratorius';
const veery = 'Catharus fuscescens';

function report(
  birds: LedgerBird[],
  events: StockEvent[],
  changes: Partial<LedgerInput> = {},
): SalvageReport {
  return computeReport(makeInput(2024, { birds, events, ...changes }));
}

const ruleOf = (result: SalvageReport, rule: number) => result.checks.find((check) => check.rule === rule);
const codesOf = (result: SalvageReport) => result.warnings.map((warning) => warning.code);
const salvage = (birdId: string, on = '2024-05-01', taxon = robin) =>
  makeEvent('salvaged', birdId, on, { taxon });

describe('the nine arithmetic rules of the annual report', () => {
  it('rule 1: opening + salvaged + received ± corrections − transferred − destroyed = on hand', () => {
    const birds = ['a', 'b', 'c', 'd', 'e'].map((id) => makeBird(id));
    const result = report(birds, [
      salvage('a', '2023-04-01'),
      salvage('b'),
      makeEvent('received', 'c', '2024-06-01', { taxon: robin, from: 'A park', fromAuthority: 'P-7' }),
      makeEvent('corrected', 'd', '2024-07-01', { taxon: robin, delta: 1, reason: 'found at inventory' }),
      salvage('e'),
      makeEvent('transferred', 'b', '2024-08-01', { recipient: 'A school', recipientAuthority: 'S-2' }),
      makeEvent('destroyed', 'e', '2024-09-01', { method: 'incinerated', witness: 'B. Witness' }),
    ]);
    // 1 + 2 + 1 + 1 − 1 − 1 = 3
    expect(result.rows).toEqual([
      expect.objectContaining({
        taxon: robin,
        opening: 1,
        salvaged: 2,
        received: 1,
        corrections: 1,
        transferred: 1,
        destroyed: 1,
        onHand: 3,
      }),
    ]);
    expect(result.equation).toBe(
      '1 carried over + 2 salvaged + 1 received + 1 corrected − 1 transferred − 1 destroyed − 0 released = 3 on hand',
    );
    expect(ruleOf(result, 1)?.holds).toBe(true);
  });

  it('rule 2: opening equals the closing of the previous accepted version', () => {
    const birds = [makeBird('a'), makeBird('b')];
    const events = [salvage('a', '2023-04-01'), salvage('b', '2023-05-01')];
    const previous = (quantity: number) => ({
      versionId: 'v1',
      recordedThrough: '2024-01-10T00:00:00Z',
      closing: [{ taxon: robin, specimenType: 'whole-bird' as const, quantity }],
    });
    expect(ruleOf(report(birds, events), 2)?.holds).toBeNull();
    expect(ruleOf(report(birds, events, { previous: previous(2) }), 2)?.holds).toBe(true);
    const differs = report(birds, events, { previous: previous(3) });
    expect(ruleOf(differs, 2)).toMatchObject({ holds: false });
    expect(ruleOf(differs, 2)?.details).toEqual([`${robin}, whole-bird: closed with 3, opens with 2`]);
    expect(checkReadyToSign(differs.warnings, {}).unexplained.map((warning) => warning.id)).toContain(
      'rule-2',
    );
  });

  it('rule 3: on hand equals what stands on the shelves, or the difference is explained', () => {
    const birds = ['a', 'b', 'c'].map((id) => makeBird(id));
    const events = birds.map((bird) => salvage(bird.birdId));
    const held = (birdId: string, where: 'freezer' | 'cleaning' | 'missing') => ({
      birdId,
      where,
      quantity: 1,
      description: '',
    });
    const full = [held('a', 'freezer'), held('b', 'cleaning'), held('c', 'freezer')];
    expect(ruleOf(report(birds, events), 3)?.holds).toBeNull();
    expect(ruleOf(report(birds, events, { holdings: full }), 3)?.holds).toBe(true);

    const short = report(birds, events, { holdings: [...full.slice(0, 2), held('c', 'missing')] });
    expect(ruleOf(short, 3)?.details).toEqual(['c: 1 in the book, 0 on the shelf']);
    expect(checkReadyToSign(short.warnings, {}).ready).toBe(false);
    const explained = { 'holding-differs:c': 'Looked for in every freezer on 3 January; reported lost.' };
    expect(checkReadyToSign(short.warnings, explained).ready).toBe(true);
    expect(checkReadyToSign(short.warnings, { 'holding-differs:c': '  ' }).ready).toBe(false);
  });

  it('rule 4: month, county and line totals agree', () => {
    const birds = [makeBird('a'), makeBird('b', { county: 'Lake' }), makeBird('c', { county: null })];
    const result = report(birds, [
      salvage('a'),
      salvage('b', '2024-06-02'),
      salvage('c', '2024-06-03'),
      makeEvent('transferred', 'b', '2024-07-01', { recipient: 'A school', recipientAuthority: 'S-2' }),
    ]);
    expect(result.byCounty).toEqual([
      { key: 'US-IL, Cook', acquired: 1, disposed: 0, onHand: 1 },
      { key: 'US-IL, county not recorded', acquired: 1, disposed: 0, onHand: 1 },
      { key: 'US-IL, Lake', acquired: 1, disposed: 1, onHand: 0 },
    ]);
    expect(result.byMonth.map(({ key, acquired, disposed }) => [key, acquired, disposed])).toEqual([
      ['2024-05', 1, 0],
      ['2024-06', 2, 0],
      ['2024-07', 0, 1],
    ]);
    expect(ruleOf(result, 4)?.holds).toBe(true);
    expect(codesOf(result)).toContain('county-missing');
  });

  it('rule 5: one bird is 1; products never add; a part counts only when no parent is held', () => {
    const birds = [
      makeBird('a'),
      makeBird('a-wing', { parentBirdId: 'a', specimenType: 'part' }),
      makeBird('lone-wing', { specimenType: 'part' }),
    ];
    const result = report(birds, [
      salvage('a'),
      makeEvent('prepared', 'a', '2024-06-01', { products: ['skin', 'skeleton', 'vial', 'vial'] }),
      salvage('a-wing', '2024-06-01'),
      salvage('lone-wing'),
    ]);
    expect(result.lines.map((line) => line.birdId)).toEqual(['a', 'lone-wing']);
    expect(result.total.onHand).toBe(2);
    expect(ruleOf(result, 5)?.holds).toBe(true);
  });

  it('rule 5: a part that came before its parent counts beside it and is pointed out', () => {
    const birds = [makeBird('a'), makeBird('a-wing', { parentBirdId: 'a', specimenType: 'part' })];
    const result = report(birds, [salvage('a-wing', '2024-05-01'), salvage('a', '2024-05-20')]);
    expect(ruleOf(result, 5)).toMatchObject({ holds: false, details: ['a-wing counts beside a'] });
    expect(codesOf(result)).toContain('part-beside-parent');
  });

  it('rule 5: a part kept from a body that is destroyed the same day counts', () => {
    const birds = [makeBird('a'), makeBird('a-wing', { parentBirdId: 'a', specimenType: 'part' })];
    const result = report(birds, [
      salvage('a'),
      makeEvent('destroyed', 'a', '2024-06-01', { method: 'incinerated', witness: 'B. Witness' }),
      salvage('a-wing', '2024-06-01'),
    ]);
    expect(result.total.onHand).toBe(1);
    expect(ruleOf(result, 5)?.holds).toBe(true);
  });

  it('rule 6: a loan changes place, not stock; a gift reduces stock', () => {
    const birds = [makeBird('lent'), makeBird('given')];
    const result = report(
      birds,
      [
        salvage('lent'),
        salvage('given'),
        makeEvent('lent', 'lent', '2024-06-01', { borrower: 'A university' }),
        makeEvent('transferred', 'given', '2024-06-01', { recipient: 'A school', recipientAuthority: 'S-2' }),
      ],
      { holdings: [{ birdId: 'lent', where: 'on-loan', quantity: 1, description: 'at A university' }] },
    );
    const [given, lent] = result.lines;
    expect(given).toMatchObject({ birdId: 'given', outcome: 'transferred', onHand: 0 });
    expect(lent).toMatchObject({
      birdId: 'lent',
      outcome: 'on-hand',
      onHand: 1,
      outcomeDetail: 'at A university',
    });
    expect(ruleOf(result, 6)?.holds).toBe(true);
    expect(ruleOf(result, 3)?.holds).toBe(true);
  });

  it.each([
    [false, 1, 'on-hand', true],
    [true, 0, 'catalogued', true],
    [null, 1, 'on-hand', false],
  ] as const)(
    'rule 7: cataloguing is a disposition: %s leaves %i on hand',
    (setting, onHand, outcome, holds) => {
      const result = report(
        [makeBird('a')],
        [salvage('a'), makeEvent('catalogued', 'a', '2024-11-01', { catalogNumber: 'B 17' })],
        { authority: { ...authority, cataloguingIsDisposition: setting } },
      );
      expect(result.total.onHand).toBe(onHand);
      expect(result.lines[0]).toMatchObject({ outcome });
      expect(ruleOf(result, 7)?.holds).toBe(holds);
      expect(ruleOf(result, 1)?.holds).toBe(true);
    },
  );

  it('rule 8: a changed identification is two matching lines, out of A and into B', () => {
    const result = report(
      [makeBird('a')],
      [salvage('a'), makeEvent('identified-anew', 'a', '2024-10-01', { fromTaxon: robin, toTaxon: veery })],
    );
    expect(result.movements.map(({ column, taxon, delta }) => [column, taxon, delta])).toEqual([
      ['salvaged', robin, 1],
      ['reclassifiedOut', robin, -1],
      ['reclassifiedIn', veery, 1],
    ]);
    expect(result.rows.map((row) => [row.taxon, row.onHand])).toEqual([
      [veery, 1],
      [robin, 0],
    ]);
    expect(result.lines).toHaveLength(1);
    expect(result.lines[0]?.identificationChanges).toEqual([
      { on: '2024-10-01', fromTaxon: robin, toTaxon: veery },
    ]);
    expect(ruleOf(result, 8)?.holds).toBe(true);
  });

  it('rule 9: eagles, listed, out-of-place and out-of-term birds cite their separate authority', () => {
    const eagle = 'Haliaeetus leucocephalus';
    const events = [salvage('a', '2024-05-01', eagle)];
    const bare = report([makeBird('a', { special: ['eagle'] })], events);
    expect(ruleOf(bare, 9)).toMatchObject({ holds: false });
    expect(codesOf(bare)).toContain('separate-authority-missing');
    const cited = makeBird('a', { special: ['eagle'], separateAuthority: 'repository letter 24-118' });
    expect(ruleOf(report([cited], events), 9)?.holds).toBe(true);
  });
});

describe('what must be explained before signing', () => {
  it.each([
    ['a bird entered twice counts once', 'acquired-twice', [salvage('a'), salvage('a', '2024-05-03')], 1],
    [
      'a bird sent away twice leaves once',
      'disposed-more-than-held',
      [
        salvage('a'),
        makeEvent('transferred', 'a', '2024-06-01', { recipient: 'X', recipientAuthority: 'S' }),
        makeEvent('destroyed', 'a', '2024-07-01', { method: 'm', witness: 'w' }),
      ],
      0,
    ],
    [
      'a transfer names the recipient’s authority',
      'recipient-authority-missing',
      [
        salvage('a'),
        makeEvent('transferred', 'a', '2024-06-01', { recipient: 'X', recipientAuthority: null }),
      ],
      0,
    ],
    [
      'a destruction names method and witness',
      'destruction-unwitnessed',
      [salvage('a'), makeEvent('destroyed', 'a', '2024-06-01', { method: 'm', witness: null })],
      0,
    ],
    ['events without a record are pointed out', 'bird-unknown', [salvage('a'), salvage('ghost')], 1],
  ])('%s', (_name, code, events, onHand) => {
    const result = report([makeBird('a')], events as StockEvent[]);
    expect(codesOf(result)).toContain(code);
    expect(result.total.onHand).toBe(onHand);
    expect(result.lines).toHaveLength(1);
    expect(ruleOf(result, 1)?.holds).toBe(true);
  });

  it('a date that straddles the period or the term is pointed out', () => {
    const bird = makeBird('a', { foundEarliestOn: '2022-12-30', foundLatestOn: '2024-01-02' });
    expect(codesOf(report([bird], [salvage('a', '2024-01-02')]))).toEqual(
      expect.arrayContaining(['date-straddles-period', 'out-of-term']),
    );
  });

  it('an unreported band is pointed out', () => {
    const bird = makeBird('a', { bandNumber: '1234-56789' });
    expect(codesOf(report([bird], [salvage('a')]))).toContain('band-unreported');
  });

  it('a period without stock or movement is a nil report', () => {
    expect(report([], []).nil).toBe(true);
    expect(report([makeBird('a')], [salvage('a')]).nil).toBe(false);
  });
});
