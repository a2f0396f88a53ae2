import type { Page } from '@playwright/test';
import { DEMO_PASSWORD } from '@/lib/platform/identity/demo';

/** Signs in through the form as one of the demo's people. */
export async function signInAsDemo(page: Page, who: string): Promise<void> {
  await page.goto('/sign-in');
  await page.getByLabel('E-mail').fill(`${who}@demo.example`);
  await page.locator('[name=password]').fill(DEMO_PASSWORD);
  await page.getByRole('button', { name: 'Sign in' }).click();
  await page.waitForURL((address) => !address.pathname.startsWith('/sign-in'));
}
