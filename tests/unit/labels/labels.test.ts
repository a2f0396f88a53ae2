import { Writable } from 'node:stream';
import fc from 'fast-check';
import { describe, expect, it, vi } from 'vitest';
import { encodeCode, fitCode, quietModules } from '@/lib/labels/codes';
import { codeAt, textAt } from '@/lib/labels/elements';
import { labelKindNames, labelKinds } from '@/lib/labels/kinds';
import { listMissingTagFacts, specimenTagSchema } from '@/lib/labels/kinds/specimen-tag';
import { checkLabels, renderLabels, writeLabels } from '@/lib/labels/render';
import { LabelsDoNotFitError, labelStockSchema } from '@/lib/labels/schema';
import { getLabelStock, labelStocks } from '@/lib/labels/stocks';
import { fitText, span } from '@/lib/labels/text';
import { findInk, rasterise } from './paper';
import { samples } from './samples';

// Rendering takes its time on a small machine that does other things too.
vi.setConfig({ testTimeout: 60_000 });

const vial = samples['vial-side'].content;
const tag = samples['specimen-tag'].content;

describe('geometry in millimetres, measured on the rendered page', () => {
  it.each(labelStocks.map((stock) => [stock.id, stock] as const))(
    '%s comes out at its page size',
    async (_, stock) => {
      const kind = labelKindNames.find((name) => labelKinds[name].stockIds.includes(stock.id));
      expect(kind).toBeDefined();
      if (!kind) return;
      const [page] = await rasterise(await renderLabels(kind, [samples[kind].content] as never, stock), 72);
      expect(page?.widthMm).toBeCloseTo(stock.page.widthMm, 1);
      expect(page?.heightMm).toBeCloseTo(stock.page.heightMm, 1);
    },
  );

  const stock = getLabelStock('a4-tags-90x40');
  const whole = { xMm: 0, yMm: 0, widthMm: 210, heightMm: 297 };

  it('the cut lines of the second label of the third row are where the stock says', async () => {
    // Black cut lines would be found; they are grey, so the ink found is text, code and fold.
    const [page] = await rasterise(await renderLabels('specimen-tag', [tag], stock, { startAt: 6 }), 300);
    if (!page) throw new Error('no page');
    const ink = findInk(page, whole);
    // Label 6 is in column 2, row 3: x from 105 mm, y from 88.5 mm. The fold line is its whole width.
    expect(ink.leftMm).toBeCloseTo(105, 0);
    expect(ink.rightMm).toBeLessThanOrEqual(195.2);
    expect(ink.topMm).toBeGreaterThan(88.5);
    expect(ink.bottomMm).toBeLessThan(128.5);
  });

  it('a measured code has the size of its modules', async () => {
    const roll = getLabelStock('roll-80x30');
    const [page] = await rasterise(await renderLabels('storage', [samples.storage.content], roll), 600);
    if (!page) throw new Error('no page');
    const element = labelKinds.storage
      .layOut(labelKinds.storage.schema.parse(samples.storage.content), roll.label)
      .find((candidate) => candidate.type === 'code');
    if (element?.type !== 'code') throw new Error('no code');
    const fitted = fitCode(element);
    if ('message' in fitted) throw new Error(fitted.message);
    const ink = findInk(page, element);
    const modules = encodeCode('data-matrix', element.content).widthModules;
    expect(ink.rightMm - ink.leftMm).toBeCloseTo(modules * fitted.moduleMm, 1);
    expect(ink.bottomMm - ink.topMm).toBeCloseTo(modules * fitted.moduleMm, 1);
  });

  it('calibration shifts by what was measured and stretches to true length', async () => {
    const roll = getLabelStock('roll-100x50');
    const content = samples['carcass-bag'].content;
    const area = { xMm: 0, yMm: 0, widthMm: 100, heightMm: 50 };
    const inkOf = async (calibration: object) => {
      const pdf = await renderLabels('carcass-bag', [content], roll, { calibration: calibration as never });
      const [page] = await rasterise(pdf, 600);
      if (!page) throw new Error('no page');
      return findInk(page, area);
    };
    const plain = await inkOf({});
    const shifted = await inkOf({ offsetXMm: -1, offsetYMm: 0.5 });
    expect(shifted.leftMm - plain.leftMm).toBeCloseTo(1, 1);
    expect(shifted.topMm - plain.topMm).toBeCloseTo(-0.5, 1);
    // A printer that makes 100 mm come out as 98 mm gets everything drawn longer.
    const stretched = await inkOf({ measured100XMm: 98 });
    expect((stretched.rightMm - stretched.leftMm) / (plain.rightMm - plain.leftMm)).toBeCloseTo(1 / 0.98, 2);
  });
});

describe('sheets', () => {
  it('starts at label n and goes on to a second page', async () => {
    const stock = getLabelStock('a4-box-99x57');
    const items = Array.from({ length: 4 }, () => samples['skeleton-box'].content);
    const pages = await rasterise(await renderLabels('skeleton-box', items, stock, { startAt: 8 }), 72);
    expect(pages).toHaveLength(2);
    expect(pages[0]?.text.match(/LV-2026-00417-B/g)).toHaveLength(3);
    expect(pages[1]?.text.match(/LV-2026-00417-B/g)).toHaveLength(1);
  });

  it('refuses a start that the sheet does not have, and an empty batch', async () => {
    const stock = getLabelStock('a4-box-99x57');
    const items = [samples['skeleton-box'].content];
    await expect(renderLabels('skeleton-box', items, stock, { startAt: 11 })).rejects.toThrow(
      'has 10 labels',
    );
    await expect(renderLabels('skeleton-box', [], stock)).rejects.toThrow('nothing to print');
  });

  it('refuses a stock whose labels do not fit its page', () => {
    const wide = { ...getLabelStock('a4-box-99x57'), columns: 3 };
    const result = labelStockSchema.safeParse(wide);
    expect(result.error?.issues[0]?.message).toContain('mm in width');
  });

  it('asks the print dialog for full size', async () => {
    const pdf = await renderLabels('vial-side', [vial], getLabelStock('roll-33x13'));
    expect(pdf.toString('latin1')).toMatch(/\/PrintScaling \/None/);
  });
});

describe('text that does not fit', () => {
  it('names every label and field before anything is written', async () => {
    const long = {
      ...vial,
      tissues: 'pectoral muscle, heart, liver, kidney, brain, lung and the left gonad',
    };
    let written = 0;
    const output = new Writable({
      write(chunk, _encoding, done) {
        written += chunk.length;
        done();
      },
    });
    const stock = getLabelStock('letter-vials-33x13');
    const items = [vial, { ...long, preservation: 'RNA stabiliser, then −80 °C since 2026' }, vial];
    const failure = await writeLabels('vial-side', items, stock, output).catch((error: unknown) => error);
    expect(failure).toBeInstanceOf(LabelsDoNotFitError);
    const problems = (failure as LabelsDoNotFitError).problems;
    expect(problems.map(({ item, field }) => ({ item, field }))).toEqual([{ item: 2, field: 'tissue' }]);
    expect(problems[0]?.message).toContain('not even at 4.5 pt');
    expect(written).toBe(0);
    expect(checkLabels('vial-side', items, stock)).toEqual(problems);
  });

  it('says so when a code would be too fine to scan', () => {
    const problems = checkLabels(
      'vial-cap',
      [{ number: 'aB;cD;eF;gH;iJ;kL;mN;oP;qR;sT;uV;wX;yZ;1', mark: 'T1' }],
      getLabelStock('roll-cap-11'),
    );
    expect(problems).toHaveLength(1);
    expect(problems[0]?.message).toMatch(/modules of 0\.\d\d mm; 0\.25 mm is the least/);
  });

  it('says so when a code holds signs that a scanner cannot type', () => {
    const problems = checkLabels('vial-cap', [{ number: 'Ł-1', mark: null }], getLabelStock('roll-cap-11'));
    expect(problems[0]?.message).toContain('cannot be a code');
  });

  it('says which sign no font has', () => {
    const stock = getLabelStock('roll-33x13');
    const [problem] = checkLabels('vial-side', [{ ...vial, tissues: 'liver \u{1f99c}\u{f0000}' }], stock);
    expect(problem?.message).toContain('U+F0000');
  });

  const place = { xMm: 2, yMm: 3, widthMm: 30, heightMm: 10 };
  const sizes = { sizePt: 12, leastSizePt: 5 };

  it('shrinks no more than needed', () => {
    const short = fitText(textAt('x', place, [[span('Wing')]], sizes));
    const longer = fitText(textAt('x', place, [[span('Wing, tail, tarsus, bill, mass and fat')]], sizes));
    if ('message' in short || 'message' in longer) throw new Error('should fit');
    expect(short.sizePt).toBe(12);
    expect(longer.sizePt).toBeLessThan(12);
    expect(longer.sizePt).toBeGreaterThanOrEqual(5);
  });

  it('either fits inside its box or says that it does not (any text)', () => {
    const word = fc.stringMatching(/^[A-Za-zÀ-ſΑ-Ρα-ωА-я♀♂°×,.;-]{1,14}$/);
    fc.assert(
      fc.property(fc.array(word, { minLength: 1, maxLength: 25 }), (words) => {
        const fitted = fitText(textAt('x', place, [[span(words.join(' '))]], sizes));
        if ('message' in fitted) return fitted.message.includes('does not fit');
        const emMm = (fitted.sizePt * 25.4) / 72;
        const drawn = fitted.lines.flatMap((line) => line.runs.map((run) => run.text)).join('');
        return (
          fitted.lines.every(({ runs, xMm, baselineMm }) => {
            const width = runs.reduce((sum, run) => sum + run.widthEm, 0) * emMm;
            return xMm >= 2 && xMm + width <= 32.001 && baselineMm <= 13 && baselineMm > 3;
          }) && drawn.replace(/\s/g, '') === words.join('').normalize('NFC')
        );
      }),
      { numRuns: 150 },
    );
  });
});

describe('any script', () => {
  const lineOf = (text: string) => {
    const fitted = fitText(
      textAt('x', { xMm: 0, yMm: 0, widthMm: 180, heightMm: 10 }, [[span(text)]], {
        sizePt: 9,
        leastSizePt: 5,
      }),
    );
    if ('message' in fitted) throw new Error(fitted.message);
    return fitted.lines[0]?.runs ?? [];
  };

  it('draws ♀ and ł from different fonts of one chain', () => {
    const runs = lineOf('♀ Łódź');
    expect(runs.map((run) => run.text).join('')).toBe('♀ Łódź');
    expect(new Set(runs.map((run) => run.font.file)).size).toBeGreaterThan(1);
  });

  it('puts words written from right to left in their order on paper', () => {
    const runs = lineOf('coll. אבג דהו, Illinois');
    const texts = runs.map((run) => run.text.trim()).filter((text) => text !== '');
    expect(texts.indexOf('דהו')).toBeLessThan(texts.indexOf('אבג'));
    expect(texts[0]).toBe('coll.');
  });

  it('turns brackets around inside such words', () => {
    const texts = lineOf('אבג (דהו) זחט').map((run) => run.text);
    expect(texts.join('').replace(/\s/g, '')).toBe('זחט(דהו)אבג');
  });

  it.each(['鳥類学', 'हिन्दी', 'ไทย', '한국', 'Ελληνικά', 'Њива', 'Հայերեն', 'ქართული', 'ʻIʻiwi'])(
    'has a font for %s',
    (text) => {
      expect(
        lineOf(text)
          .map((run) => run.text)
          .join(''),
      ).toBe(text.normalize('NFC'));
    },
  );
});

describe('codes', () => {
  it.each(['data-matrix', 'qr', 'code-128'] as const)(
    '%s keeps its quiet zone inside its box',
    (symbology) => {
      const box = { xMm: 5, yMm: 5, widthMm: 60, heightMm: 20 };
      const fitted = fitCode(codeAt(symbology, 'LV-2026-00417', box));
      if ('message' in fitted) throw new Error(fitted.message);
      const quiet = quietModules[symbology] * fitted.moduleMm - 1e-9;
      const left = Math.min(...fitted.rects.map((rect) => rect.xMm));
      const right = Math.max(...fitted.rects.map((rect) => rect.xMm + rect.widthMm));
      expect(left - box.xMm).toBeGreaterThanOrEqual(quiet);
      expect(box.xMm + box.widthMm - right).toBeGreaterThanOrEqual(quiet);
    },
  );
});

describe('the label minimum', () => {
  it('lists what a tag lacks', () => {
    expect(listMissingTagFacts(specimenTagSchema.parse(tag))).toEqual([]);
    const bare = specimenTagSchema.parse({ ...tag, massG: null, skull: null, bursa: null, fat: null });
    expect(listMissingTagFacts(bare)).toEqual(['mass', 'skull or bursa', 'fat']);
  });
});
