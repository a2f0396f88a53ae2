import { expect, type Page, test } from '@playwright/test';
import es from '../../lib/platform/words/es.json';
import { addressOf, PAGES } from './pages';
import { signInAs } from './people';

/** Words of the catalogue that stand on the page in English; those that are equal in both languages are none. */
const leftIn = (page: Page) =>
  page.evaluate((catalogue: Record<string, string>) => {
    const shown: string[] = [];
    const walker = document.createTreeWalker(document.body, NodeFilter.SHOW_TEXT);
    for (let node = walker.nextNode(); node !== null; node = walker.nextNode())
      if (node.parentElement?.closest('script, style, [lang]:not(html)') === null)
        shown.push(node.textContent ?? '');
    for (const element of document.querySelectorAll('[aria-label], [placeholder], [title]'))
      for (const name of ['aria-label', 'placeholder', 'title']) shown.push(element.getAttribute(name) ?? '');
    return [...new Set(shown.map((text) => text.trim()))].filter(
      (text) => Object.hasOwn(catalogue, text) && catalogue[text] !== text,
    );
  }, es);

/**
 * What is stored as it was written, in English, and happens to be a text of the catalogue too: the steps of the lab's
 * own procedures, names given to lists and boxes, a priority's stored sentence, what a finder or a georeference said.
 */
const DATA = new Set([
  'Coordinates as precise as they were written',
  'Datum recorded',
  'Dry',
  'Dry for the colony',
  'Drying',
  'Extent of the named place',
  'Flesh',
  'Freeze out beetles',
  'G',
  'In the colony',
  'Nobody has asked for it.',
  'Number and count',
  'Pest freeze',
  'Shelved',
  'Starter checklist',
  'the finder',
  'used up',
]);

for (const [who, pages] of Object.entries(PAGES))
  test(`the pages of the ${who} speak Spanish to a browser that asks for it`, async ({ browser }) => {
    const page = await signInAs(browser, who, { locale: 'es-MX' });
    const faults: string[] = [];
    page.on('pageerror', (error) => faults.push(String(error)));
    for (const [name, where] of Object.entries(pages)) {
      await page.goto(await addressOf(page, where));
      await expect(page.getByRole('heading', { level: 1 }), name).toBeVisible();
      await expect(page.locator('[aria-busy="true"]'), name).toHaveCount(0);
      expect(await page.locator('html').getAttribute('lang'), name).toBe('es');
      const left = (await leftIn(page)).filter((text) => !DATA.has(text));
      expect.soft(left, name).toEqual([]);
    }
    expect(faults).toEqual([]);
  });

test('the choice in the menu stands before the wish of the browser, and a refusal is said in it', async ({
  browser,
}) => {
  const page = await signInAs(browser, 'volunteer');
  await expect(page.locator('html')).toHaveAttribute('lang', 'en');
  await page.getByRole('button', { name: /Volunteer/ }).click();
  // A click, not a check: the page is read again at once, and the box with it.
  await page.getByRole('radio', { name: 'Español' }).click();
  await expect(page.locator('html')).toHaveAttribute('lang', 'es');
  await expect(page.getByRole('link', { name: es.Queue })).toBeVisible();
  // A route answers in the language of whoever asks.
  const refused = await page.request.post('/api/places/read', { data: { coordinates: 7 } });
  expect((await refused.json()).title).toBe(es['Something in the body is not right. Nothing was saved.']);
});
