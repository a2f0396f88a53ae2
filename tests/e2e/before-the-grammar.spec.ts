import { expect, type Page, test } from '@playwright/test';
import { expectSaved, openRecord, showRecord, takeBirds } from './bench';
import { signInAs } from './people';

/** A sentence that only the scripts which read words hold. */
const OF_THE_GRAMMAR = 'This number can be read in two ways';

/** Holds those scripts back until the answer is called, as a slow connection would. */
async function holdGrammar(page: Page): Promise<() => void> {
  let release = () => {};
  const released = new Promise<void>((resolve) => {
    release = resolve;
  });
  await page.route('**/_next/static/chunks/*.js', async (route) => {
    const answer = await route.fetch();
    const body = await answer.text();
    if (body.includes(OF_THE_GRAMMAR)) await released;
    await route.fulfill({ response: answer, body });
  });
  return release;
}

test('what is dictated and typed before the grammar came is read when it comes, in its order', async ({
  browser,
}) => {
  const page = await signInAs(browser, 'preparator');
  const [record] = await takeBirds(page, 1);
  if (record === undefined) throw new Error('a bird was taken');
  const release = await holdGrammar(page);
  await openRecord(page, record.id);
  const line = page.getByLabel('Dictation');

  await line.fill('wing 94 flurb 12');
  await line.press('Enter');
  await expect(line).toHaveValue('');
  await expect(page.getByText('Waits until this page can read it.')).toBeVisible();
  await line.fill('no, wing 95');
  await line.press('Enter');
  // What comes after the wing in this style: the tail, then the tarsus.
  await line.press('ArrowRight');
  await line.pressSequentially('98');
  await line.press('ArrowRight');
  await line.pressSequentially('31.4');
  await line.press('Enter');
  await page.getByLabel('Total length in mm').fill('250,5');
  await page.keyboard.press('Tab');
  await line.fill('mass 3');
  await expect(page.getByLabel('Total length in mm'), 'what was typed stays in sight').toHaveValue('250,5');

  release();
  await expect(line, 'what was not understood comes before what was typed since').toHaveValue(
    'flurb 12; mass 3',
  );
  await expect(line).toBeFocused();
  await expect(page.getByLabel('Wing in mm')).toHaveValue('95');
  await expect(page.getByLabel('Total length in mm')).toHaveValue('250.5');
  await expectSaved(page);
  const { values } = await showRecord(page, record.id);
  const heldOf = Object.fromEntries(Object.entries(values).map(([field, held]) => [field, held.value]));
  expect(heldOf).toEqual({ wingMm: 95, tailMm: 98, tarsusMm: 31.4, totalLengthMm: 250.5 });
});

test('what the server says of a record stands until the page judges it anew', async ({ browser }) => {
  const page = await signInAs(browser, 'preparator');
  const [record] = await takeBirds(page, 1);
  if (record === undefined) throw new Error('a bird was taken');
  await openRecord(page, record.id);
  const line = page.getByLabel('Dictation');
  await line.fill('left ovary 12 by 5, sex male, skull 80');
  await line.press('Enter');
  await expectSaved(page);
  const said = async () => ({
    sex: await page.locator('#sexing').getByText('The evidence says:').textContent(),
    age: await page.locator('#ageing').getByText('The evidence speaks for:').textContent(),
  });
  const byThePage = await said();
  expect(byThePage.sex).toContain('female');

  // Without scripts the page is what the server drew.
  const drawn = await page
    .context()
    .browser()
    ?.newContext({
      javaScriptEnabled: false,
      storageState: await page.context().storageState(),
      baseURL: new URL(page.url()).origin,
    });
  const still = await drawn?.newPage();
  if (still === undefined) throw new Error('a second context was opened');
  await still.goto(new URL(page.url()).pathname);
  await expect(still.getByLabel('Left ovary in mm')).toHaveValue('12 by 5');
  expect(await still.locator('#sexing').getByText('The evidence says:').textContent()).toBe(byThePage.sex);
  expect(await still.locator('#ageing').getByText('The evidence speaks for:').textContent()).toBe(
    byThePage.age,
  );
});
