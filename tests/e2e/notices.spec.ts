import { expect, test } from '@playwright/test';
import { read, signInAs } from './people';

type Birds = { rows: { birdId: string; number: string }[] };

test('a comment that names somebody reaches their bell while they look at another page', async ({
  browser,
}) => {
  const curator = await signInAs(browser, 'curator');
  const preparator = await signInAs(browser, 'preparator');
  await preparator.goto('/notices');
  await preparator.getByRole('button', { name: 'Mark all as read' }).click();
  await expect(preparator.getByRole('link', { name: 'Notices', exact: true })).toBeVisible();
  await preparator.goto('/queue');

  const { rows } = await read<Birds>(curator, '/api/catalogue?size=1');
  await curator.goto(`/birds/${rows[0]?.birdId}`);
  const box = curator.getByRole('textbox', { name: 'Say something' });
  await box.fill('The left wing looks longer than the right; ');
  await box.pressSequentially('@Rosa');
  await curator.getByRole('option', { name: /Rosa Okafor/ }).click();
  await curator.getByRole('button', { name: 'Comment', exact: true }).click();
  await expect(curator.getByText('The left wing looks longer than the right;')).toBeVisible();

  await preparator.getByRole('link', { name: 'Notices, 1 unread' }).click();
  await preparator
    .getByRole('link', { name: /^Henrike Dahl/ })
    .first()
    .click();
  await expect(preparator.getByText('The left wing looks longer than the right;')).toBeVisible();
});
