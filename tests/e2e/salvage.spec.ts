import AxeBuilder from '@axe-core/playwright';
import { expect, test } from '@playwright/test';
import { command, read, signInAs } from './people';

const phone = {
  viewport: { width: 360, height: 740 },
  hasTouch: true,
  geolocation: { latitude: 39.9612, longitude: -82.9988, accuracy: 12 },
  permissions: ['geolocation'],
};

type List = { rows: { id: string; number: string; county: string; source: string }[] };

test('a bird is logged on a phone, by its position, and found in the list', async ({ browser }) => {
  const page = await signInAs(browser, 'volunteer', phone);
  await page.goto('/salvage/new');
  await page.getByLabel('What bird?').fill('American Robin');
  await page.getByRole('option', { name: /American Robin/ }).click();
  await expect(page.getByText('Chosen from the checklist.')).toBeVisible();
  await page.getByRole('button', { name: 'Yesterday' }).click();
  await page.getByRole('button', { name: 'Use this device’s position' }).click();
  await expect(page.getByLabel('County')).toHaveValue('Franklin');
  await page.getByLabel('In words').fill('Below the west windows of the e2e tower');
  await page.getByRole('button', { name: 'Log this bird' }).click();
  const number = page.getByText(/^SB-\d{4}-\d{4}$/);
  await expect(number).toBeVisible();
  const width = await page.evaluate(() => document.documentElement.scrollWidth);
  expect(width).toBeLessThanOrEqual(phone.viewport.width);
  await page.getByRole('link', { name: 'Open the record' }).click();
  await expect(page.getByText('Information, not legal advice', { exact: true })).toBeVisible();
});

test('what is missing is said with links to the fields, and nothing typed is lost', async ({ browser }) => {
  const page = await signInAs(browser, 'volunteer', phone);
  await page.goto('/salvage/new');
  await page.getByLabel('What bird?').fill('some gull');
  await page.getByLabel('Found on').fill('03/04/2026');
  await page.getByRole('button', { name: 'Log this bird' }).click();
  await expect(page.getByRole('alert').filter({ hasText: 'Say where it was found.' })).toBeVisible();
  await page.reload();
  await expect(page.getByRole('combobox', { name: 'What bird?' })).toHaveValue('some gull');
});

test('without a connection the find is kept and sent later, once', async ({ browser }) => {
  const page = await signInAs(browser, 'volunteer', phone);
  await page.goto('/salvage/new');
  const place = `Kept offline ${Date.now()}`;
  await page.getByLabel('What bird?').fill('robin');
  await page.getByLabel('In words').fill(place);
  await page.getByLabel('Country (two letters)').fill('US');
  await page.context().setOffline(true);
  await page.getByRole('button', { name: 'Log this bird' }).click();
  await expect(page.getByText('There is no connection.')).toBeVisible();
  await expect(page.getByText('1 find kept on this device')).toBeVisible();
  await page.context().setOffline(false);
  await page.evaluate(() => window.dispatchEvent(new Event('online')));
  await expect(page.getByText(/^Arrived:/).first()).toBeVisible();
  await expect(page.getByText('kept on this device')).toHaveCount(0);
  const curator = await signInAs(browser, 'curator');
  const { rows } = await read<List>(curator, `/api/salvage?q=${encodeURIComponent(place)}`);
  expect(rows).toHaveLength(1);
});

test('a finder without an account reports by a slip and sees a code, nothing else', async ({ browser }) => {
  const staff = await signInAs(browser, 'preparator');
  const slip = await command<{ path: string }>(staff, '/api/salvage/slips', { label: 'e2e freezer' });
  const finder = await (await browser.newContext(phone)).newPage();
  await finder.goto(slip.path);
  await finder.getByLabel('What bird is it, as far as you know?').fill('small brown bird');
  await finder.getByLabel('Where exactly?').fill('beside the fountain');
  await finder.getByRole('button', { name: /this phone’s position/ }).click();
  await expect(finder.getByText('Position taken')).toBeVisible();
  await finder.getByRole('button', { name: 'Send' }).click();
  const code = await finder.getByText(/^[A-Z2-9]{6}$/).textContent();
  await expect(finder.getByRole('navigation')).toHaveCount(0);
  const found = await new AxeBuilder({ page: finder })
    .withTags(['wcag2a', 'wcag2aa', 'wcag21aa', 'wcag22aa'])
    .analyze();
  expect(found.violations.map(({ id, nodes }) => `${id}: ${nodes[0]?.html}`)).toEqual([]);
  const { rows } = await read<List>(staff, `/api/salvage?q=${code}`);
  expect(rows).toMatchObject([{ county: 'Franklin', source: 'drop-off' }]);
  await finder.goto('/salvage');
  await expect(finder).toHaveURL(/sign-in/);
});

test('triage: the record goes from reported to a bird in the book', async ({ browser }) => {
  const page = await signInAs(browser, 'preparator');
  const list = await read<List>(page, '/api/salvage?state=reported&coverage=covered');
  const [first] = list.rows;
  if (first === undefined) throw new Error('The demo has no reported, covered bird.');
  await page.goto(`/salvage/${first.id}`);
  await page.getByRole('button', { name: 'Begin triage' }).click();
  await page.getByRole('button', { name: 'Accept this bird' }).click();
  await page.getByRole('button', { name: 'Accept this bird' }).click();
  await expect(page.getByRole('link', { name: 'All of this bird' })).toBeVisible();
});
