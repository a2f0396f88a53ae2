import AxeBuilder from '@axe-core/playwright';
import { expect, type Page, test } from '@playwright/test';
import { openRecord, takeBirds } from './bench';
import { signInAs } from './people';

async function expectNothingFound(page: Page): Promise<void> {
  const found = await new AxeBuilder({ page })
    .withTags(['wcag2a', 'wcag2aa', 'wcag21aa', 'wcag22aa'])
    .analyze();
  expect(found.violations.map(({ id, nodes }) => `${id}: ${nodes[0]?.html}`)).toEqual([]);
}

test('axe finds nothing at the bench, on a record in work and on the lab’s settings', async ({ browser }) => {
  const page = await signInAs(browser, 'preparator');
  const [record] = await takeBirds(page, 1);
  if (!record) throw new Error('a bird was taken');
  await page.goto('/bench');
  await expect(page.getByRole('heading', { level: 1 })).toHaveText('Bench');
  await expectNothingFound(page);
  await openRecord(page, record.id);
  await page.getByLabel('Dictation').fill('wing 94 flurb 3');
  await page.getByLabel('Mass in g').focus();
  await expectNothingFound(page);
  await page.goto('/bench/lab');
  await page.getByRole('button', { name: 'Change it' }).first().click();
  await expectNothingFound(page);
});

test('at 360 px nothing of a record lies beyond the edge', async ({ browser }) => {
  const page = await signInAs(browser, 'preparator', { viewport: { width: 360, height: 740 } });
  const [record] = await takeBirds(page, 1);
  if (!record) throw new Error('a bird was taken');
  await openRecord(page, record.id);
  await page.getByLabel('Dictation').fill('wing 94 tail 71.5 iris dark brown flurb');
  const beyond = await page.evaluate(() => document.documentElement.scrollWidth - window.innerWidth);
  expect(beyond).toBeLessThanOrEqual(0);
});
