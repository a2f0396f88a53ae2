import { ensureChromium } from '../../lib/ops/chromium';
import journeys from './playwright.config';

/** Pictures of every page for the eye: light, dark and phone, into tests/output/pictures. `npm run pictures` */
export default {
  ...journeys,
  testDir: '../pictures',
  timeout: 600_000,
  use: {
    ...journeys.use,
    launchOptions: { ...journeys.use?.launchOptions, executablePath: ensureChromium() },
  },
};
