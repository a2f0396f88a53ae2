import { expect, type Page, test } from '@playwright/test';
import { read, signInAs } from './people';

type Row = { id: string; number: string; own: boolean; blocks: number };

/** Opens the first row of the desk that this curator may decide on, with the keyboard alone. */
async function openFirst(page: Page, rows: Row[]): Promise<Row> {
  const at = rows.findIndex(({ own }) => !own);
  const row = rows[at];
  if (row === undefined) throw new Error('The demo has no record that this curator may decide on.');
  // "Skip to the page", then the list: one row of it is in the tab order.
  await page.keyboard.press('Tab');
  await page.keyboard.press('Enter');
  for (let presses = 0; presses < 20; presses += 1) {
    if (await page.locator('[data-row-focus]:focus').count()) break;
    await page.keyboard.press('Tab');
  }
  for (let step = 0; step < at; step += 1) await page.keyboard.press('ArrowDown');
  await page.keyboard.press('Enter');
  await expect(page.getByRole('heading', { name: 'What to look at' })).toBeVisible();
  return row;
}

const waiting = async (page: Page) => (await read<{ rows: Row[] }>(page, '/api/catalogue/review')).rows;

test('a review by keyboard: one record returned with a remark, the next approved and numbered', async ({
  browser,
}) => {
  const page = await signInAs(browser, 'curator2');
  const before = await waiting(page);
  await page.goto('/catalogue/review');
  const returned = await openFirst(page, before);
  await page.keyboard.press('r');
  await page.keyboard.type('Say how the skull was hurt.');
  await page.keyboard.press('Control+Enter');
  await expect(page.getByText('Returned with remarks', { exact: true })).toBeVisible();

  // The focus stands on the way to the next record.
  await page.keyboard.press('Enter');
  await expect(page).not.toHaveURL(new RegExp(returned.id));
  await expect(page.getByRole('button', { name: 'Approve and number' })).toBeVisible();
  await page.keyboard.press('a');
  const decision = page.getByRole('form', { name: 'Approve and number' });
  await expect(decision).toBeVisible();
  const explanations = decision.getByRole('textbox');
  for (let left = await explanations.count(); left > 0; left -= 1) {
    await page.keyboard.type('Looked at with the preparator; it is so.');
    await page.keyboard.press('Tab');
  }
  await page.keyboard.press('Enter');
  const approved = page.getByText(/^Approved as B-\d+$/);
  await expect(approved).toBeVisible();

  const after = await waiting(page);
  expect(after).toHaveLength(before.length - 2);
  const number = ((await approved.textContent()) ?? '').replace('Approved as ', '');
  await page.getByRole('link', { name: `See ${number}` }).click();
  await expect(page.getByText('Catalogued', { exact: true }).first()).toBeVisible();
  await expect(page.getByText(`gave it the catalogue number ${number}`)).toBeVisible();
});

test('a visitor finds approved birds by one box, and no exact place', async ({ browser }) => {
  const page = await signInAs(browser, 'visitor');
  await page.goto('/catalogue');
  await page.getByLabel('Number, name, person, place, date').fill('Turdus migratorus');
  await page.getByRole('button', { name: 'Search', exact: true }).click();
  await expect(page.getByText('Nothing is called “Turdus migratorus”')).toBeVisible();
  await page.locator('[data-row-focus]').first().click();
  await expect(page.getByText('The exact place is withheld.')).toBeVisible();
  await expect(page.getByRole('heading', { name: 'History' })).toHaveCount(0);
  await page.goto('/catalogue/review');
  await expect(page.getByRole('heading', { name: 'Not open to your roles' })).toBeVisible();
});
