import { expect, type Page } from '@playwright/test';
import { paths } from '../../lib/platform/paths';
import { command, read } from './people';

type QueuedBird = { id: string; number: string; style: string | null };
export type Held = { value: unknown; method: string | null; verbatim: string | null; by: { name: string } };
export type Shown = {
  id: string;
  number: string;
  state: string;
  values: Record<string, Held>;
  earlier: Record<string, number>;
};

/** Takes queued birds of one style for the signed-in person and starts their bench records. */
export async function takeBirds(page: Page, count: number): Promise<Shown[]> {
  const { rows } = await read<{ rows: QueuedBird[] }>(page, '/api/queue?states=queued&held=no&size=100');
  const birds = rows.filter(({ style }) => style === 'skin-with-partial-skeleton').slice(0, count);
  expect(birds, 'queued birds of the demo').toHaveLength(count);
  const records: Shown[] = [];
  for (const { id } of birds) {
    await command(page, `/api/queue/${id}/take`, {});
    records.push(await command<Shown>(page, '/api/bench', { birdId: id }));
  }
  return records;
}

export const showRecord = (page: Page, id: string) => read<Shown>(page, `/api/bench/${id}`);

/** Opens a record and waits until it can be written in. */
export async function openRecord(page: Page, id: string): Promise<void> {
  await page.goto(paths.benchRecord(id));
  await expect(page.getByLabel('Dictation')).toBeEditable();
}

/** The signed-in person's keyboard, and how often it was struck. */
export class Keys {
  struck = 0;
  constructor(private readonly page: Page) {}

  async type(text: string): Promise<void> {
    this.struck += text.length;
    await this.page.keyboard.type(text);
  }

  async press(key: string, times = 1): Promise<void> {
    for (let time = 0; time < times; time += 1) {
      this.struck += 1;
      await this.page.keyboard.press(key);
    }
  }
}

/** Waits until nothing of this page's changes is on its way. */
export const expectSaved = (page: Page) =>
  expect(page.getByRole('status').filter({ hasText: /^Saved \d/ })).toBeVisible();
