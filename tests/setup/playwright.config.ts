import { defineConfig } from '@playwright/test';

const isRoot = process.getuid?.() === 0;

/** Journeys in a real browser against the production build. `npm run test:e2e` */
export default defineConfig({
  testDir: '../e2e',
  outputDir: '../output/e2e',
  globalSetup: './start-furcula.ts',
  // The journeys share one database, so they go one after the other.
  workers: 1,
  timeout: 90_000,
  expect: { timeout: 15_000 },
  use: {
    // Set by start-furcula.ts before the workers begin.
    baseURL: process.env.FURCULA_E2E_URL,
    trace: 'retain-on-failure',
    // Pages come from the server, except in the journey that is about those kept on the device.
    serviceWorkers: 'block',
    launchOptions: {
      executablePath: process.env.CHROMIUM_PATH,
      // Chromium's sandbox does not work for root.
      args: isRoot ? ['--no-sandbox'] : [],
    },
  },
});
