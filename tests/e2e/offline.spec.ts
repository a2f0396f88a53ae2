import { expect, type Page, test } from '@playwright/test';
import { paths } from '../../lib/platform/paths';
import { openRecord, showRecord, takeBirds } from './bench';
import { read, signInAs } from './people';

/** Pages that a worker keeps: elsewhere in the journeys workers are blocked, so that they come from the server. */
const withWorker = { serviceWorkers: 'allow' } as const;

const expectKept = (page: Page, pathname: string) =>
  expect
    .poll(() => page.evaluate(async (path) => (await caches.match(path)) !== undefined, pathname), {
      message: `${pathname} is kept on the device`,
    })
    .toBe(true);

/** A part of a kept page that nobody opened yet, by a sentence that only its own file holds. */
const expectPartKept = (page: Page, sentence: string) =>
  expect
    .poll(
      () =>
        page.evaluate(async (text) => {
          const files = await caches.open('furcula-files');
          for (const request of await files.keys()) {
            if (!request.url.endsWith('.js')) continue;
            if ((await (await files.match(request))?.text())?.includes(text)) return true;
          }
          return false;
        }, sentence),
      { message: `the part with “${sentence}” is kept on the device`, timeout: 30_000 },
    )
    .toBe(true);

test('the form for a find opens without a connection, and what is written there arrives later', async ({
  browser,
}) => {
  const page = await signInAs(browser, 'volunteer', withWorker);
  await expectKept(page, paths.salvageNew);
  await expectPartKept(page, 'So that somebody else would find the spot.');
  await page.context().setOffline(true);
  await page.goto(paths.queue);
  await expect(page.getByRole('heading', { name: 'No connection' })).toBeVisible();
  await page.getByRole('link', { name: 'Report a find' }).click();
  const place = `Written offline ${Date.now()}`;
  await page.getByLabel('What bird?').fill('robin');
  await page.getByLabel('In words').fill(place);
  await page.getByLabel('Country (two letters)').fill('US');
  await page.getByRole('button', { name: 'Log this bird' }).click();
  await expect(page.getByText('1 find kept on this device')).toBeVisible();
  await page.reload();
  await expect(page.getByText('1 find kept on this device')).toBeVisible();
  // It is sent as soon as the browser says that there is a connection; a page loaded anew then would not tell of it.
  await page.context().setOffline(false);
  await expect(page.getByText(/^Arrived:/).first()).toBeVisible();
  const curator = await signInAs(browser, 'curator');
  const { rows } = await read<{ rows: unknown[] }>(curator, `/api/salvage?q=${encodeURIComponent(place)}`);
  expect(rows).toHaveLength(1);
});

test('a bench record opens again without a connection and keeps what is dictated; who leaves takes it along', async ({
  browser,
}) => {
  const page = await signInAs(browser, 'preparator', withWorker);
  const [record] = await takeBirds(page, 1);
  if (record === undefined) throw new Error('a bird was taken');
  const pathname = paths.benchRecord(record.id);
  await openRecord(page, record.id);
  await expectKept(page, pathname);
  await expectPartKept(page, 'What can be said');
  await page.context().setOffline(true);
  await page.reload();
  const line = page.getByLabel('Dictation');
  await line.fill('wing 94');
  await line.press('Enter');
  await expect(page.getByText('Not sent yet: 1 change kept on this device')).toBeVisible();
  await page.reload();
  await expect(page.getByLabel('Wing in mm')).toHaveValue('94');
  await page.getByRole('button', { name: 'Help', exact: true }).click();
  await expect(page.getByRole('region', { name: 'What can be said' })).toBeVisible();
  await page.context().setOffline(false);
  await page.reload();
  await expect
    .poll(async () => (await showRecord(page, record.id)).values.wingMm?.value, {
      message: 'the wing arrives',
    })
    .toBe(94);
  await page.getByRole('button', { name: /Rosa Okafor/ }).click();
  await page.getByRole('button', { name: 'Sign out' }).click();
  await expect(page).toHaveURL(/sign-in/);
  expect(await page.evaluate(async (path) => (await caches.match(path)) === undefined, pathname)).toBe(true);
});
