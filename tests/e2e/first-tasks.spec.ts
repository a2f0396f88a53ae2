import { expect, type Locator, type Page, test } from '@playwright/test';
import { DEMO_PASSWORD } from '../../lib/platform/identity/demo';
import { Keys } from './bench';
import { command, read } from './people';

/** The signed-in person's hands: how often the mouse was pressed and a key was struck. */
class Hands extends Keys {
  clicks = 0;

  async click(target: Locator): Promise<void> {
    this.clicks += 1;
    await target.click();
  }

  spent(): { clicks: number; keys: number } {
    return { clicks: this.clicks, keys: this.struck };
  }
}

const SIGN_IN = { clicks: 1, keys: 50 };

type Budget = { clicks: number; keys: number };

const say = ({ clicks, keys }: Budget) => `${clicks} clicks and ${keys} keys`;

function holdTo(what: string, spent: Budget, budget: Budget): void {
  console.log(`${what}: ${say(spent)} (budget ${say(budget)})`);
  expect(spent.clicks, `${what}: clicks`).toBeLessThanOrEqual(budget.clicks);
  expect(spent.keys, `${what}: keys`).toBeLessThanOrEqual(budget.keys);
}

async function signIn(page: Page, who: string): Promise<void> {
  await page.goto('/sign-in');
  const hands = new Hands(page);
  await hands.click(page.getByLabel('E-mail'));
  await hands.type(`${who}@demo.example`);
  await hands.press('Tab');
  await hands.type(DEMO_PASSWORD);
  await hands.press('Enter');
  await expect(page).toHaveURL((url) => !url.pathname.startsWith('/sign-in'));
  await expect(page.getByRole('heading', { level: 1 })).toBeVisible();
  holdTo(`${who}: signing in`, hands.spent(), SIGN_IN);
}

const pile = (page: Page, title: string) => page.getByRole('region', { name: new RegExp(`^${title}`) });

/** From the first page by keyboard to where a task begins. */
async function begin(page: Page, hands: Hands, words: string, task: string | RegExp): Promise<void> {
  await hands.press('Control+k');
  await expect(page.getByRole('combobox', { name: 'A number, a name, a page, a task' })).toBeFocused();
  await hands.type(words);
  const offered = page.getByRole('listbox', { name: 'What there is' });
  await expect(offered.getByRole('option', { selected: true })).toHaveText(task);
  await hands.press('Enter');
}

type Task = {
  who: string;
  task: string;
  budget: Budget;
  does: (page: Page, hands: Hands) => Promise<void>;
  /** What makes room for the journeys after it, for all share one database. */
  afterwards?: (page: Page) => Promise<void>;
};

const TASKS: Task[] = [
  {
    who: 'volunteer',
    task: 'takes the next bird and sees where it lies',
    budget: { clicks: 2, keys: 0 },
    does: async (page, hands) => {
      await hands.click(pile(page, 'Next in the queue').getByRole('link', { name: /^All \d+$/ }));
      await hands.click(page.getByRole('button', { name: 'Take this bird', exact: true }).first());
      await expect(page.getByText(/^SB-\d{4}-\d{4} is yours\.$/)).toBeVisible();
      await expect(page.getByText(/^It lies in .*freezer/i)).toBeVisible();
    },
    // A volunteer may hold so many birds at once.
    afterwards: async (page) => {
      const said = (await page.getByText(/^SB-\d{4}-\d{4} is yours\.$/).textContent()) ?? '';
      const { rows } = await read<{ rows: { id: string }[] }>(
        page,
        `/api/queue?states=claimed&q=${said.split(' ')[0]}`,
      );
      await command(page, `/api/queue/${rows[0]?.id}/put-back`, {});
    },
  },
  {
    who: 'preparator',
    task: 'records a first value on the bird in hand',
    budget: { clicks: 1, keys: 17 },
    does: async (page, hands) => {
      await hands.click(pile(page, 'Your birds').locator('a[href^="/bench/"]').first());
      await expect(page.getByLabel('Dictation')).toBeEditable();
      await hands.press('F2');
      await hands.type('iris dark brown');
      await hands.press('Enter');
      await expect(page.getByRole('status').filter({ hasText: /^Saved \d/ })).toBeVisible();
      await expect(page.getByLabel('Iris', { exact: true })).toHaveValue('dark brown');
    },
  },
  {
    who: 'curator',
    task: 'approves and numbers a record',
    budget: { clicks: 1, keys: 60 },
    does: async (page, hands) => {
      await hands.click(pile(page, 'To review').getByRole('link').first());
      await expect(page.getByRole('button', { name: 'Approve and number' })).toBeVisible();
      await hands.press('a');
      const decision = page.getByRole('form', { name: 'Approve and number' });
      await expect(decision).toBeVisible();
      const explanations = decision.getByRole('textbox');
      for (let left = await explanations.count(); left > 0; left -= 1) {
        await hands.type('Seen, and so.');
        await hands.press('Tab');
      }
      await hands.press('Enter');
      await expect(page.getByText(/^Approved as B-\d+$/)).toBeVisible();
    },
  },
  {
    who: 'registrar',
    task: 'accessions an accepted find',
    budget: { clicks: 3, keys: 40 },
    does: async (page, hands) => {
      await begin(page, hands, 'make', 'Make an accession');
      await hands.click(page.getByLabel('From whom or where'));
      await hands.type('Handed in at the front desk');
      const ready = page.getByRole('row').filter({ hasText: 'Ready' });
      await hands.click(ready.nth(1).getByRole('checkbox'));
      await hands.click(page.getByRole('button', { name: 'Make the accession of 1 bird' }));
      await expect(page).toHaveURL(/\/accessions\/[0-9a-f-]{36}$/);
    },
  },
  {
    who: 'officer',
    task: 'rules on a bird whose coverage needs attention',
    budget: { clicks: 3, keys: 60 },
    does: async (page, hands) => {
      await hands.click(pile(page, 'Coverage to rule on').getByRole('link').first());
      await hands.click(page.getByRole('button', { name: 'Rule on it' }));
      await hands.click(page.getByLabel('By which clause, letter or rule'));
      await hands.type('Letter of the office');
      await hands.press('Tab');
      await hands.type('They were asked and agreed.');
      await hands.press('Enter');
      await expect(page.getByText('Ruled: Covered')).toBeVisible();
    },
  },
  {
    who: 'administrator',
    task: 'invites somebody',
    budget: { clicks: 1, keys: 50 },
    does: async (page, hands) => {
      await begin(page, hands, 'inv', 'Invite somebody');
      await hands.click(page.getByRole('textbox', { name: 'Name', exact: true }));
      await hands.type('Liesl Amsel');
      await hands.press('Tab');
      await hands.type('liesl.amsel@demo.example');
      await hands.press('Enter');
      await expect(page.getByText('Give Liesl Amsel this link.')).toBeVisible();
    },
  },
  {
    who: 'visitor',
    task: 'finds a specimen by its common name',
    budget: { clicks: 0, keys: 10 },
    does: async (page, hands) => {
      await begin(page, hands, 'robin', /Robin/);
      await expect(page.getByRole('heading', { level: 1, name: /Robin/ })).toBeVisible();
    },
  },
];

for (const { who, task, budget, does, afterwards } of TASKS) {
  test(`${who} ${task}`, async ({ page }) => {
    await signIn(page, who);
    const hands = new Hands(page);
    await does(page, hands);
    holdTo(`${who} ${task}`, hands.spent(), budget);
    await afterwards?.(page);
  });
}
