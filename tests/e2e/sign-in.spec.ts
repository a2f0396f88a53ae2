import { expect, test } from '@playwright/test';
import { signInAs } from './people';

test('a wrong password is refused in words, a right one opens the desk', async ({ page, browser }) => {
  await page.goto('/');
  await expect(page).toHaveURL(/sign-in/);
  await page.getByLabel('E-mail').fill('curator@demo.example');
  await page.locator('[name=password]').fill('not the password');
  await page.getByRole('button', { name: 'Sign in' }).click();
  await expect(page.getByText('This e-mail and password do not belong together.')).toBeVisible();
  const signedIn = await signInAs(browser, 'curator');
  await expect(signedIn.getByRole('heading', { level: 1 })).toContainText('Good day');
});

test('what a role may not open is neither in the navigation nor behind its address', async ({ browser }) => {
  const page = await signInAs(browser, 'volunteer');
  await expect(page.getByRole('link', { name: 'People', exact: true })).toHaveCount(0);
  await page.goto('/people');
  await expect(page.getByRole('heading', { name: 'Not open to your roles' })).toBeVisible();
});

test('a revoked session and a changed role take effect at once', async ({ browser }) => {
  const volunteer = await signInAs(browser, 'volunteer3');
  const administrator = await signInAs(browser, 'administrator');
  await administrator.goto('/people?q=Odile');
  await administrator.getByRole('link', { name: /Odile Farrow/ }).click();
  await administrator.getByRole('button', { name: 'End all sessions' }).click();
  await expect(administrator.getByText(/signed Odile Farrow out everywhere/)).toBeVisible();
  await volunteer.goto('/queue');
  await expect(volunteer).toHaveURL(/sign-in/);
});
