import path from 'node:path';
import { test } from '@playwright/test';
import { addressOf, PAGES } from '../e2e/pages';
import { signInAs } from '../e2e/people';

const LOOKS = {
  light: { colorScheme: 'light', viewport: { width: 1280, height: 900 } },
  dark: { colorScheme: 'dark', viewport: { width: 1280, height: 900 } },
  phone: { colorScheme: 'light', viewport: { width: 360, height: 780 } },
} as const;

/** Pictures that README shows. */
const IN_README = new Set(['desk', 'bird', 'bench', 'queue', 'report']);

for (const [who, pages] of Object.entries(PAGES))
  test(`pages of the ${who}`, async ({ browser }) => {
    const tests = path.dirname(test.info().project.testDir);
    for (const [look, options] of Object.entries(LOOKS)) {
      const page = await signInAs(browser, who, options);
      for (const [name, target] of Object.entries(pages)) {
        await page.goto(await addressOf(page, target));
        await page.waitForLoadState('load');
        // Lists are asked for after the first paint.
        await page.waitForTimeout(700);
        await page.screenshot({
          path: path.join(tests, 'output/pictures', `${name}-${look}.png`),
          fullPage: true,
        });
        if (look === 'light' && IN_README.has(name))
          await page.screenshot({ path: path.join(tests, '../public/docs', `${name}.png`) });
      }
      await page.context().close();
    }
  });
