import { expect, test } from '@playwright/test';
import es from '../../lib/platform/words/es.json';
import { addressOf, PAGES } from './pages';
import { signInAs } from './people';

for (const [who, pages] of Object.entries(PAGES))
  test(`the pages of the ${who} speak Spanish to a browser that asks for it`, async ({ browser }) => {
    const page = await signInAs(browser, who, { locale: 'es-MX' });
    const faults: string[] = [];
    page.on('pageerror', (error) => faults.push(String(error)));
    for (const [name, where] of Object.entries(pages)) {
      await page.goto(await addressOf(page, where));
      await expect(page.locator('html'), name).toHaveAttribute('lang', 'es');
      await expect(
        page.getByText(es['Demonstration: the birds, people and permits here are invented.']),
        name,
      ).toBeVisible();
    }
    expect(faults).toEqual([]);
  });

test('the choice in the menu stands before the wish of the browser, and a refusal is said in it', async ({
  browser,
}) => {
  const page = await signInAs(browser, 'volunteer');
  await expect(page.locator('html')).toHaveAttribute('lang', 'en');
  await page.getByRole('button', { name: /Volunteer/ }).click();
  await page.getByRole('radio', { name: 'Español' }).check();
  await expect(page.locator('html')).toHaveAttribute('lang', 'es');
  await expect(page.getByRole('link', { name: es.Queue })).toBeVisible();
  // A route answers in the language of whoever asks.
  const refused = await page.request.post('/api/places/read', { data: { coordinates: 7 } });
  expect((await refused.json()).title).toBe(es['Something in the body is not right. Nothing was saved.']);
});
