import { defineConfig } from 'vitest/config';
import pure from './vitest.config';

/** Tests on a real PostgreSQL of their own. `npm run test:integration` */
export default defineConfig({
  ...pure,
  test: {
    include: ['tests/integration/**/*.test.ts', 'tests/security/**/*.test.ts', 'tests/ops/**/*.test.ts'],
    exclude: ['tests/ops/compose.test.ts'],
    environment: 'node',
    globalSetup: 'tests/setup/test-server.ts',
    setupFiles: 'tests/setup/test-database.ts',
    // One process a file, so that a file's connections are gone when the next one gets its database.
    pool: 'forks',
    isolate: true,
    maxWorkers: 2,
    testTimeout: 120_000,
    hookTimeout: 120_000,
    env: {
      LOG_LEVEL: 'silent',
      NEXTAUTH_SECRET: 'only-for-tests-and-nowhere-else',
      FURCULA_DEMO: '0',
    },
  },
});
