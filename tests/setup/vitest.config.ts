import { fileURLToPath } from 'node:url';
import { defineConfig } from 'vitest/config';

const root = fileURLToPath(new URL('../..', import.meta.url));

/** Pure tests: no database, no server. `npm run test:unit` */
export default defineConfig({
  root,
  resolve: {
    alias: {
      '@': root.replace(/\/$/, ''),
      'server-only': fileURLToPath(new URL('./server-only.ts', import.meta.url)),
    },
  },
  test: {
    include: [
      'tests/unit/**/*.test.{ts,tsx}',
      'tests/reference/**/*.test.ts',
      'tests/architecture/**/*.test.ts',
      'tests/ops/compose.test.ts',
    ],
    environment: 'node',
  },
});
