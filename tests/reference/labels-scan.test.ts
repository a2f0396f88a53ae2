import { describe, expect, it } from 'vitest';
import { type LabelKind, labelKindNames, labelKinds } from '@/lib/labels/kinds';
import { renderLabels } from '@/lib/labels/render';
import { getLabelStock } from '@/lib/labels/stocks';
import { labelArea, rasterise, readCodes } from '../unit/labels/paper';
import { samples } from '../unit/labels/samples';

const render = (kind: LabelKind, stockId: string, settings = {}) =>
  renderLabels(kind, [samples[kind].content] as never, getLabelStock(stockId), settings);

describe('every kind of label on every stock it is made for, read back by an independent decoder', () => {
  for (const kind of labelKindNames) {
    for (const stockId of labelKinds[kind].stockIds) {
      it(`${kind} on ${stockId} at 300 dpi`, async () => {
        const [page] = await rasterise(await render(kind, stockId), 300);
        expect(page).toBeDefined();
        const codes = page ? await readCodes(page, labelArea(getLabelStock(stockId), 1)) : [];
        expect(codes).toEqual([{ format: samples[kind].format, text: samples[kind].code }]);
      }, 60_000);
    }
  }

  it('a full sheet of vial labels: each code on its own label', async () => {
    const stock = getLabelStock('letter-vials-33x13');
    const items = Array.from({ length: 85 }, (_, index) => ({
      number: `LV-2026-${String(index + 1).padStart(5, '0')}-T1`,
      scientificName: 'Zonotrichia albicollis',
      tissues: 'muscle',
      preservation: 'frozen',
      sampledOn: '2026-10-02',
      amount: null,
    }));
    const pages = await rasterise(await renderLabels('vial-side', items, stock), 300);
    expect(pages).toHaveLength(1);
    const [page] = pages;
    if (!page) return;
    for (const [index, item] of items.entries()) {
      const codes = await readCodes(page, labelArea(stock, index + 1));
      expect(codes).toEqual([{ format: 'DataMatrix', text: item.number }]);
    }
  }, 60_000);
});

describe('what is printed for the eye is in the PDF as text', () => {
  it('carries every fact of the label minimum on a specimen tag', async () => {
    const [page] = await rasterise(await render('specimen-tag', 'a4-tags-90x40'), 72);
    const text = page?.text.replace(/\s+/g, ' ') ?? '';
    for (const fact of [
      'LV-2026-00417',
      'MKO 212',
      'Cardinalis cardinalis',
      '♀',
      'ovary 9 × 5 mm, largest follicle 1.2 mm',
      'Łucja Żółć',
      'Ángel Ñandú',
      '3/5 March 2026',
      'Illinois, Cook County, Glass Street 12',
      '41.87811° N, 87.62980° W',
      '42.6 g',
      'skull 100 % pneumatised',
      'bursa none',
      'fat 2 of 5 (Helms & Drury)',
      'moult none',
      'bill orange-red, legs brown, iris dark',
      'stomach seeds',
      'window strike',
    ]) {
      expect(text).toContain(fact);
    }
  });
});
