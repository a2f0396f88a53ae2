import { ensureChromium } from '../../lib/ops/chromium';

process.env.CHROMIUM_PATH ??= ensureChromium();

const { default: journeys } = await import('./playwright.config');

/** Pictures of every page for the eye: light, dark and phone, into tests/output/pictures. `npm run pictures` */
export default { ...journeys, testDir: '../pictures', timeout: 600_000 };
