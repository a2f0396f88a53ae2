import { chromium, type Page } from '@playwright/test';
import { quantile } from 'd3-array';
import { FIELDS, NUMBER_FIELDS } from '@/lib/bench/fields';
import { ensureChromium } from '@/lib/ops/chromium';
import { signInAsDemo } from './sign-in-page';

/**
 * How long a key takes until the page has drawn what it did, while one types in a full record with many warnings.
 * Against a running Furcula with demo data: `FURCULA_URL=http://127.0.0.1:3000 node --import tsx tests/bench/typing-bench.ts`
 */
const url = process.env.FURCULA_URL ?? 'http://127.0.0.1:3000';
const LINES = [
  'wing 94 tail 71.5 tarsus 20.4',
  'left testis 9 by 6 right 8 by 5',
  'iris dark brown, bill black',
];
const PEERS = 24;
const BETWEEN_KEYS_MS = 60;

type Json = Record<string, unknown>;

async function main(): Promise<void> {
  const browser = await chromium.launch({ executablePath: ensureChromium(), args: ['--no-sandbox'] });
  const page = await (await browser.newContext({ baseURL: url })).newPage();
  await signInAsDemo(page, 'preparator');
  const id = await startFullRecord(page);
  await page.route(`**/api/bench/${id}**`, async (route) => {
    const answer = await route.fetch();
    const json = (await answer.json()) as Json;
    await route.fulfill({ response: answer, json: withPeers(json) });
  });
  await page.goto(`/bench/${id}`);
  // A first word makes the page ask again, and get the peers.
  await page.getByLabel('Dictation').fill('remarks made for a measurement');
  await page.getByLabel('Dictation').press('Enter');
  const warnings = page.getByRole('link', { name: /^Checks \(\d+\)$/ });
  await warnings.waitFor();
  const controls = await page.locator('input, select, textarea, button').count();
  const durations = await typeAndMeasure(page);
  const sum = (part: number) => Math.round(quantile(durations, part) ?? 0);
  console.log(
    `${await warnings.textContent()}, ${controls} controls, ${durations.length} keys: median ${sum(0.5)} ms, ` +
      `95 % ${sum(0.95)} ms, longest ${sum(1)} ms from the key to the painted page.`,
  );
  await browser.close();
}

/** A record with every number written, each far from what is usual. */
async function startFullRecord(page: Page): Promise<string> {
  const headers = { origin: url };
  const { rows } = (await (await page.request.get('/api/queue?states=queued&held=no&size=50')).json()) as {
    rows: { id: string }[];
  };
  const birdId = rows[0]?.id;
  await page.request.post(`/api/queue/${birdId}/take`, { data: {}, headers });
  const record = (await (await page.request.post('/api/bench', { data: { birdId }, headers })).json()) as {
    id: string;
  };
  const entries = NUMBER_FIELDS.map((field) => ({
    field,
    value: Math.min(100, FIELDS[field].limits?.max ?? 100),
    clientKey: `measure-${field}`,
  }));
  await page.request.post(`/api/bench/${record.id}/entries`, { data: { entries }, headers });
  return record.id;
}

/** Puts other birds beside the record, all alike but for little: each number becomes unusual. */
function withPeers(json: Json): Json {
  const { comparison } = json as { comparison?: { numbers: unknown[] } };
  if (comparison === undefined) return json;
  comparison.numbers = NUMBER_FIELDS.map((field) => ({
    field,
    sex: 'female',
    month: 4,
    values: Array.from({ length: PEERS }, (_, at) => 20 + (at % 7) / 10),
  }));
  return json;
}

/**
 * From each key to the end of the frame that shows it: a task queued in the frame's callback runs once the frame is
 * painted. Event Timing is not asked: Chromium 156 counts a key that adds or takes away an element until the frame after,
 * though a screencast shows it drawn at once.
 */
async function typeAndMeasure(page: Page): Promise<number[]> {
  await page.evaluate(() => {
    const kept: number[] = [];
    Object.assign(window, { kept });
    window.addEventListener(
      'keydown',
      ({ timeStamp }) =>
        requestAnimationFrame(() => {
          const { port1, port2 } = new MessageChannel();
          port1.onmessage = () => kept.push(performance.now() - timeStamp);
          port2.postMessage(null);
        }),
      true,
    );
  });
  for (const line of LINES) {
    await page.getByLabel('Dictation').focus();
    await page.keyboard.type(line, { delay: BETWEEN_KEYS_MS });
    await page.keyboard.press('Escape');
    await page.getByLabel('Wing in mm').focus();
    await page.keyboard.type('94.5', { delay: BETWEEN_KEYS_MS });
    await page.keyboard.press('Escape');
  }
  await page.waitForTimeout(500);
  return page.evaluate(() => (window as unknown as { kept: number[] }).kept);
}

void main();
