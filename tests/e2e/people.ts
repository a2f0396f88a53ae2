import { type Browser, type BrowserContext, expect, type Page, test } from '@playwright/test';
import { DEMO_PASSWORD } from '../../lib/platform/identity/demo';

let opened: { testId: string; contexts: BrowserContext[] } = { testId: '', contexts: [] };

/** Pages of an earlier journey stay live and take the machine's time: they are closed when the next one begins. */
async function openContext(browser: Browser, options: Parameters<Browser['newContext']>[0]) {
  const { testId } = test.info();
  if (opened.testId !== testId) {
    const earlier = opened.contexts;
    opened = { testId, contexts: [] };
    await Promise.all(earlier.map((context) => context.close()));
  }
  const context = await browser.newContext(options);
  opened.contexts.push(context);
  return context;
}

/** Signs in as one of the demo's people in a browser context of their own, through the form as a person would. */
export async function signInAs(
  browser: Browser,
  who: string,
  options: Parameters<Browser['newContext']>[0] = {},
): Promise<Page> {
  const context = await openContext(browser, options);
  const page = await context.newPage();
  await page.goto('/sign-in');
  await page.locator('[name=email]').fill(`${who}@demo.example`);
  await page.locator('[name=password]').fill(DEMO_PASSWORD);
  await page.locator('form button[type=submit]').click();
  await expect(page).toHaveURL((url) => !url.pathname.startsWith('/sign-in'));
  return page;
}

/** A command sent by the signed-in person's browser; fails the test with the server's own sentence. */
export async function command<T>(page: Page, path: string, body: unknown): Promise<T> {
  const answer = await page.request.post(path, {
    data: body,
    headers: { origin: new URL(page.url()).origin },
  });
  const json = (await answer.json()) as T & { title?: string; fields?: unknown };
  expect(answer.ok(), `${path}: ${json.title ?? ''} ${JSON.stringify(json.fields ?? [])}`).toBe(true);
  return json;
}

export async function read<T>(page: Page, path: string): Promise<T> {
  const answer = await page.request.get(path);
  expect(answer.ok(), path).toBe(true);
  return (await answer.json()) as T;
}
