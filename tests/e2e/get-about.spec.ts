import AxeBuilder from '@axe-core/playwright';
import { expect, type Page, test } from '@playwright/test';
import { read, signInAs } from './people';

const noted = async (page: Page) =>
  (await new AxeBuilder({ page }).analyze()).violations.map(({ id, nodes }) => `${id}: ${nodes[0]?.html}`);

const box = (page: Page) => page.getByRole('combobox', { name: 'A number, a name, a page, a task' });

test('the command menu by keyboard: a number opens its bird, axe has nothing to say', async ({ browser }) => {
  const page = await signInAs(browser, 'curator');
  await page.goto('/loans');
  await page.keyboard.press('Control+k');
  await expect(box(page)).toBeFocused();
  expect(await noted(page)).toEqual([]);
  await page.keyboard.press('Escape');
  await expect(box(page)).toHaveCount(0);

  const { rows } = await read<{ rows: { birdId: string; number: string }[] }>(page, '/api/catalogue?size=25');
  const bird = rows.at(-1);
  if (bird === undefined) throw new Error('The demo has no bird.');
  await page.keyboard.press('Control+k');
  await expect(box(page)).toBeFocused();
  // As fast as a scanner types: the answer is not there yet when Enter comes.
  await page.keyboard.type(bird.number);
  await page.keyboard.press('Enter');
  await expect(page).toHaveURL(new RegExp(`/birds/${bird.birdId}$`));
  await expect(box(page)).toHaveCount(0);
});

test('the sheet of keys says what works on this page, and letters in a field stay letters', async ({
  browser,
}) => {
  const page = await signInAs(browser, 'curator');
  await page.goto('/loans');
  const sheet = page.getByRole('dialog', { name: 'Keys of this page' });
  await page.keyboard.press('?');
  await expect(sheet.getByRole('heading', { level: 3 })).toHaveText(['Everywhere', 'On a row of the list']);
  expect(await noted(page)).toEqual([]);
  await page.keyboard.press('Escape');
  await expect(sheet).toHaveCount(0);

  await page.goto('/catalogue');
  const search = page.getByLabel('Number, name, person, place, date');
  await search.click();
  await page.keyboard.type('robin?');
  await expect(search).toHaveValue('robin?');
  await expect(sheet).toHaveCount(0);
});

test('a page is asked for ahead when its link is pointed at, not when it is in sight', async ({
  browser,
}) => {
  const page = await signInAs(browser, 'curator');
  await page.goto('/taxa');
  await page.mouse.move(0, 0);
  const ahead: string[] = [];
  page.on('request', (request) => {
    if (request.headers()['next-router-prefetch'] !== undefined) ahead.push(new URL(request.url()).pathname);
  });
  await page.goto('/catalogue');
  await expect(page.locator('tbody tr').first()).toBeVisible();
  // Links in sight are asked for as soon as the page is alive, which is when one that is pointed at is.
  const reports = page.getByRole('navigation').getByRole('link', { name: /^Reports/ });
  await expect(async () => {
    await page.mouse.move(0, 0);
    await reports.hover();
    expect(ahead).toContain('/reports');
  }).toPass();
  expect(new Set(ahead)).toEqual(new Set(['/reports']));
});
