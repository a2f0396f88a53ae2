import { describe, expect, it } from 'vitest';
import { CAUTION_ENDING, CAUTIONS } from '@/lib/bench/cautions';
import { clockSettings } from '@/lib/bench/clock-schema';
import { type BenchTimes, readClocks, sayMinutes } from '@/lib/bench/clocks';
import { mergeValue } from '@/lib/bench/entries';
import { actsIn, BENCH_ACTS, isOpenForEntries, listLacks, nextState } from '@/lib/bench/rules';
import { BENCH_STATES, PREPARATION_STYLES } from '@/lib/bench/schema';
import { PREPARATION_STYLE_DATA } from '@/lib/bench/style-data';
import { preparationStyle } from '@/lib/bench/styles';

describe('states of the bench record', () => {
  it('goes from draft to review, back with remarks, and to approved', () => {
    const table = BENCH_STATES.flatMap((state) =>
      BENCH_ACTS.map((act) => `${state} ${act} ${nextState(state, act)}`),
    );
    expect(table.filter((row) => !row.endsWith('null'))).toEqual([
      'draft send-to-review in-review',
      'in-review take-back draft',
      'in-review return-with-remarks returned',
      'in-review approve approved',
      'returned send-to-review in-review',
    ]);
  });

  it('is locked once approved, and waits while under review', () => {
    expect(actsIn('approved')).toEqual([]);
    expect(BENCH_STATES.filter(isOpenForEntries)).toEqual(['draft', 'returned']);
  });
});

describe('what a record still lacks', () => {
  it('lists ten things for an empty study skin, none for a full one', () => {
    expect(listLacks({}, 'skin-with-partial-skeleton')).toHaveLength(10);
    const full = {
      massG: 78,
      sex: 'undetermined',
      organsSeen: ['none-found'],
      bursa: { state: 'none' },
      fat: { score: 2, scale: 'maps' },
      moult: 'none',
      irisColour: 'brown',
      stomachContents: ['empty'],
      causeOfDeathFound: 'window strike',
      tissueVials: [{ vial: 1, kinds: ['liver'] }],
    } satisfies Parameters<typeof listLacks>[0];
    expect(listLacks(full, 'skin-with-partial-skeleton')).toEqual([]);
  });

  it('asks less of a bird that is discarded', () => {
    expect(listLacks({}, 'discard').map(({ id }) => id)).toEqual(['cause-of-death']);
  });
});

describe('entries', () => {
  it('gather vials and organs, unless corrected', () => {
    const before = [{ vial: 2, kinds: ['liver'] }];
    const heart = [{ vial: 2, kinds: ['heart' as const] }];
    expect(mergeValue('tissueVials', before, heart, false)).toEqual([{ vial: 2, kinds: ['liver', 'heart'] }]);
    expect(mergeValue('tissueVials', before, heart, true)).toEqual(heart);
    const muscle = [{ vial: 1, kinds: ['muscle' as const] }];
    expect(mergeValue('tissueVials', before, muscle, false)).toEqual([...muscle, ...before]);
    expect(mergeValue('organsSeen', ['oviduct'], ['left-ovary', 'oviduct'], false)).toEqual([
      'oviduct',
      'left-ovary',
    ]);
    expect(mergeValue('stomachContents', ['grit'], ['seeds'], false)).toEqual(['seeds']);
  });
});

describe('clocks', () => {
  const start = Date.UTC(2026, 2, 5, 8);
  const later = (minutes: number) => start + minutes * 60_000;
  const times = { outOfFreezerAt: start, workableAt: null, tissueTakenAt: null, finishedAt: null };
  const read = (at: BenchTimes, leadHours: number | null, now: number) =>
    readClocks(at, leadHours, now, clockSettings.parse({}));

  it('wait before the bird leaves the freezer', () => {
    const clocks = read({ ...times, outOfFreezerAt: null }, 3, later(5));
    expect(clocks.outOfFreezer).toEqual({ state: 'waiting', sinceMinutes: null, leftMinutes: null });
  });

  it('run, fall due, and stop', () => {
    expect(read(times, 3, later(60)).thaw).toEqual({
      state: 'running',
      sinceMinutes: 60,
      leftMinutes: 120,
    });
    expect(read(times, 3, later(180)).thaw).toEqual({
      state: 'due',
      sinceMinutes: 180,
      leftMinutes: 0,
    });
    const workable = { ...times, workableAt: later(150) };
    expect(read(workable, 3, later(400)).thaw).toEqual({
      state: 'done',
      sinceMinutes: 150,
      leftMinutes: 30,
    });
    expect(read(workable, 3, later(220)).tissue).toMatchObject({ state: 'due', leftMinutes: -10 });
    expect(read({ ...workable, tissueTakenAt: later(170) }, 3, later(400)).tissue.state).toBe('done');
  });

  it('ask to finish after the time out of the freezer', () => {
    expect(read(times, 3, later(24 * 60 - 1)).outOfFreezer.state).toBe('running');
    expect(read(times, 3, later(24 * 60)).outOfFreezer.state).toBe('due');
    expect(read({ ...times, finishedAt: later(300) }, 3, later(9999)).outOfFreezer.sinceMinutes).toBe(300);
  });

  it('have no thaw time for a bird of unknown size', () => {
    expect(read(times, null, later(60)).thaw).toEqual({
      state: 'running',
      sinceMinutes: 60,
      leftMinutes: null,
    });
  });

  it.each([
    [5, '5 min'],
    [125, '2 h 05 min'],
    [-10, '−10 min'],
    [0, '0 min'],
    [72 * 60 - 1, '71 h 59 min'],
    [-72 * 60, '−3 days'],
    [12_818 * 60 + 34, '534 days'],
  ])('%d minutes read "%s"', (minutes, text) => expect(sayMinutes(minutes)).toBe(text));
});

describe('preparation styles', () => {
  it.each(PREPARATION_STYLES)('%s is valid data that a preparator can edit', (id) => {
    const style = PREPARATION_STYLE_DATA[id];
    expect(preparationStyle.parse(style)).toEqual(style);
    expect(style.id).toBe(id);
    expect(style.products.every(({ least, usual }) => usual >= least)).toBe(true);
  });

  it('makes of a study skin what every specimen should give (Winker 2000, abstract)', () => {
    const { products } = PREPARATION_STYLE_DATA['skin-with-partial-skeleton'];
    const usual = Object.fromEntries(products.map((product) => [product.kind, product.usual]));
    expect(usual).toEqual({ skin: 1, skeleton: 1, vial: 2, stomach: 1 });
  });

  it('takes tissue after thawing, and the wing distance before the wings are cut free', () => {
    const steps = PREPARATION_STYLE_DATA['skin-with-partial-skeleton'].steps.map(({ id }) => id);
    const order = [
      'thaw',
      'outside',
      'skin-body',
      'head',
      'sex',
      'tissue',
      'legs',
      'between-wings',
      'wings',
      'tie-wrists',
      'pin',
    ];
    expect(steps.filter((id) => order.includes(id))).toEqual(order);
  });

  it('refuses a style that names a step twice or an unknown field', () => {
    const style = PREPARATION_STYLE_DATA.discard;
    expect(preparationStyle.safeParse({ ...style, steps: [...style.steps, ...style.steps] }).success).toBe(
      false,
    );
    const step = { id: 'x', label: 'X', detail: '', cautions: [], fields: ['wingspread'] };
    expect(preparationStyle.safeParse({ ...style, steps: [step] }).success).toBe(false);
  });

  it('uses every caution card, each with its source, above which local rules stand', () => {
    const used = new Set(
      Object.values(PREPARATION_STYLE_DATA).flatMap(({ steps }) => steps.flatMap(({ cautions }) => cautions)),
    );
    expect([...used].sort()).toEqual(CAUTIONS.map(({ id }) => id).sort());
    expect(CAUTIONS.every(({ source }) => source.length > 3)).toBe(true);
    expect(CAUTION_ENDING).toMatch(/^Local rules .* decide\.$/);
  });
});
