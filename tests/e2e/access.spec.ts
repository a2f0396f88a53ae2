import AxeBuilder from '@axe-core/playwright';
import { expect, test } from '@playwright/test';
import { addressOf, PAGES } from './pages';
import { signInAs } from './people';

const WIDE = { width: 1280, height: 900 };
const NARROW = { width: 360, height: 780 };

for (const [who, pages] of Object.entries(PAGES))
  test(`every page of the ${who}: nothing for axe to say, nothing beyond the edge of a phone, no error in the browser`, async ({
    browser,
  }) => {
    test.setTimeout(300_000);
    const page = await signInAs(browser, who, { viewport: WIDE });
    const said: string[] = [];
    page.on('console', (message) => {
      if (message.type() === 'error') said.push(`${message.text()} ${message.location().url}`);
    });
    page.on('pageerror', (error) => said.push(error.message));
    for (const [name, target] of Object.entries(pages)) {
      said.length = 0;
      await page.setViewportSize(WIDE);
      await page.goto(await addressOf(page, target));
      await expect(page.getByRole('heading', { level: 1 })).toBeVisible();
      await expect(page.locator('main [aria-busy="true"]')).toHaveCount(0);
      const { violations } = await new AxeBuilder({ page })
        .withTags(['wcag2a', 'wcag2aa', 'wcag21aa', 'wcag22aa'])
        .analyze();
      expect
        .soft(
          violations.map(({ id, nodes }) => `${id}: ${nodes[0]?.html}`),
          name,
        )
        .toEqual([]);
      await page.setViewportSize(NARROW);
      const beyond = await page.evaluate(() => document.documentElement.scrollWidth - window.innerWidth);
      expect.soft(beyond, `${name} at 360 px`).toBeLessThanOrEqual(0);
      expect.soft(said, name).toEqual([]);
    }
  });
