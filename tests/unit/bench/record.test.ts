import { describe, expect, it } from 'vitest';
import { CAUTION_ENDING, CAUTIONS } from '@/lib/bench/cautions';
import { DEFAULT_CLOCKS, readClocks, sayMinutes, thawLeadHours } from '@/lib/bench/clocks';
import {
  appendEntry,
  type BenchEntry,
  benchEntry,
  currentEntries,
  mergeValue,
  type NewEntry,
} from '@/lib/bench/entries';
import { actsIn, BENCH_ACTS, isOpenForEntries, listLacks, nextState } from '@/lib/bench/rules';
import { BENCH_STATES, PREPARATION_STYLES } from '@/lib/bench/schema';
import { PREPARATION_STYLE_DATA, preparationStyle } from '@/lib/bench/styles';

describe('states of the bench record', () => {
  it('goes from draft to review, back with remarks, and to approved', () => {
    const table = BENCH_STATES.flatMap((state) =>
      BENCH_ACTS.map((act) => `${state} ${act} ${nextState(state, act)}`),
    );
    expect(table.filter((row) => !row.endsWith('null'))).toEqual([
      'draft send-to-review in-review',
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
  const at = (minute: number) => `2026-03-05T10:0${minute}:00Z`;
  const wing = (value: number, correction = false): NewEntry => ({
    field: 'wingMm',
    value,
    unit: 'mm',
    verbatim: `wing ${value}`,
    method: 'chord',
    correction,
  });

  it('keep the superseded value with who and when', () => {
    const first = appendEntry([], wing(94), { at: at(1), by: 'ana' });
    const both = appendEntry(first, wing(95, true), { at: at(2), by: 'ben' });
    expect(both.map(({ value, by, supersededAt }) => [value, by, supersededAt])).toEqual([
      [94, 'ana', at(2)],
      [95, 'ben', null],
    ]);
    expect(currentEntries(both).wingMm?.value).toBe(95);
    for (const entry of both) expect(benchEntry.safeParse(entry).success).toBe(true);
  });

  it('do not grow when the same is said again, but do when the method changes', () => {
    const first = appendEntry([], wing(94), { at: at(1), by: 'ana' });
    expect(appendEntry(first, wing(94), { at: at(2), by: 'ben' })).toEqual(first);
    expect(appendEntry(first, { ...wing(94), method: 'flattened' }, { at: at(2), by: 'ben' })).toHaveLength(
      2,
    );
  });

  it('never leave two values of a field in force', () => {
    let entries: BenchEntry[] = [];
    for (const [minute, value] of [90, 91, 92, 91].entries())
      entries = appendEntry(entries, wing(value), { at: at(minute), by: 'ana' });
    expect(entries.filter(({ supersededAt }) => supersededAt === null)).toHaveLength(1);
    expect(entries).toHaveLength(4);
  });

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

  it('refuse a field that does not exist', () => {
    const entry = {
      field: 'wingspread',
      value: 1,
      unit: null,
      verbatim: null,
      method: null,
      at: at(1),
      by: 'ana',
      supersededAt: null,
    };
    expect(benchEntry.safeParse(entry).success).toBe(false);
  });
});

describe('clocks', () => {
  const start = Date.UTC(2026, 2, 5, 8);
  const later = (minutes: number) => start + minutes * 60_000;
  const times = { outOfFreezerAt: start, workableAt: null, tissueTakenAt: null, finishedAt: null };

  it('wait before the bird leaves the freezer', () => {
    const clocks = readClocks({ ...times, outOfFreezerAt: null }, 78, later(5));
    expect(clocks.outOfFreezer).toEqual({ state: 'waiting', sinceMinutes: null, leftMinutes: null });
  });

  it('run, fall due, and stop', () => {
    expect(readClocks(times, 78, later(60)).thaw).toEqual({
      state: 'running',
      sinceMinutes: 60,
      leftMinutes: 120,
    });
    expect(readClocks(times, 78, later(180)).thaw).toEqual({
      state: 'due',
      sinceMinutes: 180,
      leftMinutes: 0,
    });
    const workable = { ...times, workableAt: later(150) };
    expect(readClocks(workable, 78, later(400)).thaw).toEqual({
      state: 'done',
      sinceMinutes: 150,
      leftMinutes: 30,
    });
    expect(readClocks(workable, 78, later(220)).tissue).toMatchObject({ state: 'due', leftMinutes: -10 });
    expect(readClocks({ ...workable, tissueTakenAt: later(170) }, 78, later(400)).tissue.state).toBe('done');
  });

  it('ask to finish after the time out of the freezer', () => {
    expect(readClocks(times, 78, later(24 * 60 - 1)).outOfFreezer.state).toBe('running');
    expect(readClocks(times, 78, later(24 * 60)).outOfFreezer.state).toBe('due');
    expect(readClocks({ ...times, finishedAt: later(300) }, 78, later(9999)).outOfFreezer.sinceMinutes).toBe(
      300,
    );
  });

  it('have no thaw time for a bird of unknown mass', () => {
    expect(readClocks(times, null, later(60)).thaw).toEqual({
      state: 'running',
      sinceMinutes: 60,
      leftMinutes: null,
    });
    expect(thawLeadHours(null)).toBeNull();
  });

  it('take longer for a larger bird', () => {
    const leads = [3, 20, 21, 78, 300, 1400, 4700, 90_000].map((massG) => thawLeadHours(massG) ?? 0);
    expect(leads).toEqual([...leads].sort((a, b) => a - b));
    expect(thawLeadHours(20)).toBe(1);
    expect(thawLeadHours(78, { ...DEFAULT_CLOCKS, thawLeads: [{ upToG: 100, hours: 5 }] })).toBe(5);
  });

  it.each([
    [5, '5 min'],
    [125, '2 h 05 min'],
    [-10, '−10 min'],
    [0, '0 min'],
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
