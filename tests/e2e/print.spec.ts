import { PDFiumLibrary } from '@hyzyla/pdfium';
import { expect, test } from '@playwright/test';
import { readPages } from '../integration/reports/pdf-pages';
import { addressOf, PAGES } from './pages';
import { signInAs } from './people';

/** The share of white points of each page. */
async function whiteOf(pdf: Uint8Array): Promise<number[]> {
  const library = await PDFiumLibrary.init();
  try {
    const paper = await library.loadDocument(pdf);
    const shares: number[] = [];
    for (const sheet of paper.pages()) {
      const { data } = await sheet.render({ scale: 1, render: 'bitmap' });
      let white = 0;
      for (let at = 0; at < data.length; at += 4)
        if (Math.min(data[at] ?? 0, data[at + 1] ?? 0, data[at + 2] ?? 0) > 250) white += 1;
      shares.push((white * 4) / data.length);
    }
    return shares;
  } finally {
    library.destroy();
  }
}

const PRINTED = [
  { name: 'a list over several pages', who: 'curator', target: '/catalogue?size=100', head: 'Where it is' },
  { name: 'the record of a bird', who: 'curator', target: PAGES.curator?.bird, head: null },
  { name: 'an accession', who: 'registrar', target: PAGES.registrar?.accession, head: null },
] as const;

for (const { name, who, target, head } of PRINTED) {
  test(`printed: ${name}, black on white also from the dark look`, async ({ browser }) => {
    const page = await signInAs(browser, who, { colorScheme: 'dark' });
    if (target === undefined) throw new Error('no such page');
    await page.goto(await addressOf(page, target));
    await expect(page.getByRole('heading', { level: 1 })).toBeVisible();
    await expect(page.locator('main [aria-busy="true"]')).toHaveCount(0);
    const title = (await page.getByRole('heading', { level: 1 }).textContent()) ?? '';
    const pdf = await page.pdf({ format: 'A4', printBackground: true });
    const sheets = await readPages(pdf);
    const text = sheets.join('\n');
    // A heading may be broken over lines: its first word is enough.
    expect(text).toContain(title.split(/[\s,]/)[0]);
    for (const frame of [
      'Find, go, begin',
      'Imports and exports',
      'My desk',
      'Skip to the page',
      'Map Charts',
    ])
      expect(text).not.toContain(frame);
    expect(text).not.toMatch(/https?:\/\/|\/birds\/|\/catalogue\//);
    for (const share of await whiteOf(pdf)) expect(share).toBeGreaterThan(0.8);
    if (head === null) return;
    expect(sheets.length).toBeGreaterThan(1);
    for (const sheet of sheets.slice(0, -1)) expect(sheet).toContain(head);
  });
}
