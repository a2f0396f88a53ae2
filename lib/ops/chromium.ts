import { spawnSync } from 'node:child_process';
import { accessSync, constants, existsSync } from 'node:fs';
import path from 'node:path';
import { chromium } from '@playwright/test';
import { isRoot } from './embedded-postgres/account';
import { OperatorError } from './operator-error';

const commandNames = ['chromium', 'chromium-browser', 'google-chrome', 'google-chrome-stable'];
const macPaths = [
  '/Applications/Chromium.app/Contents/MacOS/Chromium',
  '/Applications/Google Chrome.app/Contents/MacOS/Google Chrome',
];

/**
 * Path of a Chromium for the browser tests: CHROMIUM_PATH, one the system has, or one Playwright has
 * downloaded. As root on Debian or Ubuntu it is installed when there is none.
 */
export function ensureChromium(): string {
  const given = process.env.CHROMIUM_PATH;
  if (given) {
    if (isExecutable(given)) return given;
    throw new OperatorError(`CHROMIUM_PATH is ${given}, where there is no program to run.`);
  }
  const found = findChromium() ?? installChromium();
  if (found) return found;
  throw new OperatorError(
    'The browser tests need Chromium: install it (Debian, Ubuntu: apt-get install chromium; macOS: brew install --cask chromium; or npx playwright install chromium), or set CHROMIUM_PATH to one.',
  );
}

function findChromium(): string | undefined {
  const folders = (process.env.PATH ?? '').split(path.delimiter);
  const onPath = commandNames.flatMap((name) => folders.map((folder) => path.join(folder, name)));
  return [...onPath, ...macPaths, chromium.executablePath()].find(isExecutable);
}

function installChromium(): string | undefined {
  if (!isRoot() || !existsSync('/etc/debian_version')) return undefined;
  console.log('Installing Chromium for the browser tests (apt-get install chromium)');
  const options = { stdio: 'ignore', env: { ...process.env, DEBIAN_FRONTEND: 'noninteractive' } } as const;
  spawnSync('apt-get', ['update'], options);
  spawnSync('apt-get', ['install', '--yes', '--no-install-recommends', 'chromium'], options);
  return findChromium();
}

function isExecutable(file: string): boolean {
  try {
    accessSync(file, constants.X_OK);
    return true;
  } catch {
    return false;
  }
}
