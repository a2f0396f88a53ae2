import AxeBuilder from '@axe-core/playwright';
import { expect, test } from '@playwright/test';
import { read, signInAs } from './people';

test('a borrower without an account asks for a loan through a link, and sees its state and nothing else', async ({
  browser,
}) => {
  const registrar = await signInAs(browser, 'registrar');
  await registrar.goto('/loans/links');
  await registrar.getByLabel('For whom').fill('Fenwick College');
  await registrar.getByRole('button', { name: 'Make a link' }).click();
  const address = registrar.getByText(/\/loan-request\/[\w-]+$/);
  await expect(address).toBeVisible();
  const { pathname } = new URL((await address.textContent()) ?? '');

  const borrower = await (await browser.newContext({ viewport: { width: 360, height: 740 } })).newPage();
  await borrower.goto(pathname);
  await borrower.getByRole('button', { name: 'Send the request' }).click();
  await expect(borrower.getByRole('alert').filter({ hasText: 'Name the institution.' })).toBeVisible();
  const found = await new AxeBuilder({ page: borrower })
    .withTags(['wcag2a', 'wcag2aa', 'wcag21aa', 'wcag22aa'])
    .analyze();
  expect(found.violations.map(({ id, nodes }) => `${id}: ${nodes[0]?.html}`)).toEqual([]);
  await borrower.getByLabel('Your name').fill('Nia Fenwick');
  await borrower.getByLabel('Your institution').fill('Fenwick College');
  await borrower.getByLabel('E-mail').fill('nia@fenwick.example');
  await borrower.getByLabel('Country it would go to').fill('us');
  await borrower.getByLabel('What it is for').fill('Wing shape of thrushes');
  await borrower.getByLabel('What you would like to borrow').fill('B-000041\nB-999999');
  await borrower.getByRole('button', { name: 'Send the request' }).click();
  await expect(borrower.getByText('It has arrived and waits to be looked at.')).toBeVisible();
  await borrower.reload();
  await expect(borrower.getByRole('heading', { name: 'Your request' })).toBeVisible();
  await expect(borrower.getByText('B-000041')).toHaveCount(0);
  await expect(borrower.getByRole('navigation')).toHaveCount(0);

  const { rows } = await read<{ rows: unknown[] }>(registrar, '/api/loans?state=asked');
  expect(rows.some((loan) => JSON.stringify(loan).includes('Fenwick College'))).toBe(true);
  await borrower.context().close();
});
