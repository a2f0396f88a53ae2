import { mkdir, writeFile } from 'node:fs/promises';
import path from 'node:path';
import { setTimeout } from 'node:timers/promises';
import { type BrowserContext, chromium, type Page } from '@playwright/test';
import { ensureChromium } from '@/lib/ops/chromium';
import { projectRoot } from '@/lib/ops/project';
import { addressOf, PAGES } from '../e2e/pages';
import {
  blockedMs,
  medianLoad,
  type PageFigures,
  type PageLoad,
  sayPages,
  scriptsOf,
  type Task,
} from './page-figures';
import { signInAsDemo } from './sign-in-page';

/**
 * First contentful paint, total blocking time and first-load JavaScript of every page, by the person who works on it,
 * the median of three loads in a window that is open, without anything kept by the browser. Against a running Furcula
 * with demo data, built for production:
 * `FURCULA_URL=http://127.0.0.1:3000 node --import tsx tests/bench/pages-bench.ts [preparator …]`. Writes
 * tests/output/bench/pages.md.
 */
const url = process.env.FURCULA_URL ?? 'http://127.0.0.1:3000';
const LOADS = 3;
/** A new window loads the browser's own pages, on the same processors: 260 ms of a page's first paint were theirs. */
const WINDOW_MS = 2_000;
const QUIET_MS = 1_000;
const LONGEST_MS = 15_000;

type Seen = { paintMs: number; tasks: Task[] };

async function main(): Promise<void> {
  const asked = process.argv.slice(2);
  const browser = await chromium.launch({ executablePath: ensureChromium(), args: ['--no-sandbox'] });
  const all: PageFigures[] = [];
  for (const [who, pages] of Object.entries(PAGES)) {
    if (asked.length > 0 && !asked.includes(who)) continue;
    const context = await browser.newContext({ baseURL: url, serviceWorkers: 'block' });
    await context.addInitScript(watchTasks);
    const guide = await context.newPage();
    await signInAsDemo(guide, who);
    const addresses = new Map<string, string>();
    for (const [name, target] of Object.entries(pages)) {
      const address = await addressOf(guide, target);
      if (await isAPageOfItsOwn(guide, address)) addresses.set(name, address);
    }
    await guide.close();
    for (const [name, address] of addresses) {
      const loads: PageLoad[] = [];
      while (loads.length < LOADS) loads.push(await loadOnce(context, address));
      all.push({ name, who, ...medianLoad(loads) });
      console.log(sayPages(all.slice(-1)).split('\n')[2]);
    }
    await context.close();
  }
  await browser.close();
  const folder = path.join(projectRoot, 'tests/output/bench');
  await mkdir(folder, { recursive: true });
  await writeFile(path.join(folder, 'pages.md'), `${sayPages(all)}\n`);
  console.log(sayPages(all));
}

/** Visits a page once; false where it leads on to another, which is measured under its own name. */
async function isAPageOfItsOwn(guide: Page, address: string): Promise<boolean> {
  await guide.goto(address);
  await guide.getByRole('heading', { level: 1 }).first().waitFor();
  return new URL(guide.url()).pathname === new URL(address, url).pathname;
}

/** Runs in the page before anything else: keeps its long tasks. */
function watchTasks(): void {
  const tasks: Task[] = [];
  Object.assign(window, { tasks });
  new PerformanceObserver((list) => {
    for (const { startTime, duration } of list.getEntries()) tasks.push({ startTime, duration });
  }).observe({ type: 'longtask', buffered: true });
}

async function loadOnce(context: BrowserContext, address: string): Promise<PageLoad> {
  const page = await context.newPage();
  await setTimeout(WINDOW_MS);
  const session = await context.newCDPSession(page);
  await session.send('Network.enable');
  await session.send('Network.setCacheDisabled', { cacheDisabled: true });
  const urls = new Map<string, string>();
  const bytes = new Map<string, number>();
  let lastAt = performance.now();
  session.on('Network.responseReceived', ({ requestId, type, response }) => {
    if (type === 'Script') urls.set(requestId, new URL(response.url).pathname);
  });
  session.on('Network.loadingFinished', ({ requestId, encodedDataLength }) => {
    const script = urls.get(requestId);
    if (script === undefined) return;
    bytes.set(script, encodedDataLength);
    lastAt = performance.now();
  });
  const answer = await page.goto(address, { waitUntil: 'load' });
  const inDocument = scriptsOf((await answer?.text()) ?? '');
  const seen = await untilQuiet(
    () => page.evaluate(look),
    () => lastAt,
  );
  await page.close();
  const sum = (isCounted: (script: string) => boolean) =>
    [...bytes].reduce((total, [script, size]) => total + (isCounted(script) ? size : 0), 0);
  const firstScripts = new Set([...inDocument].map((src) => new URL(src, url).pathname));
  return {
    paintMs: seen.paintMs,
    blockedMs: blockedMs(seen.tasks, seen.paintMs),
    firstBytes: sum((script) => firstScripts.has(script)),
    allBytes: sum(() => true),
  };
}

function look(): Seen {
  const paint = performance.getEntriesByName('first-contentful-paint')[0];
  return { paintMs: paint?.startTime ?? 0, tasks: (window as unknown as { tasks: Task[] }).tasks };
}

/** Waits until nothing long was done and no script came for a while. A page's live connection never ends. */
async function untilQuiet(see: () => Promise<Seen>, scriptAt: () => number): Promise<Seen> {
  const begun = performance.now();
  let seen = await see();
  let quietSince = begun;
  while (
    performance.now() - Math.max(quietSince, scriptAt()) < QUIET_MS &&
    performance.now() - begun < LONGEST_MS
  ) {
    await setTimeout(100);
    const now = await see();
    if (now.tasks.length > seen.tasks.length || now.paintMs === 0) quietSince = performance.now();
    seen = now;
  }
  return seen;
}

main().catch((error) => {
  console.error(error);
  process.exit(1);
});
