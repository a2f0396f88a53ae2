// @ts-check
import { API_HEADERS } from './lib/platform/answer-headers.mjs';

/**
 * Not TypeScript: to read that, a server would load the compiler into its memory and keep it there.
 * @type {import('next').NextConfig}
 */
const config = {
  poweredByHeader: false,
  reactStrictMode: true,
  // Pages have theirs from proxy.ts.
  headers: async () => [
    {
      source: '/api/:path*',
      headers: Object.entries(API_HEADERS).map(([key, value]) => ({ key, value })),
    },
  ],
  // `npm test` runs the type-checker as a stage of its own; a start should not do it again.
  typescript: { ignoreBuildErrors: true },
  serverExternalPackages: [
    'pdfkit',
    'fontkit',
    '@node-rs/argon2',
    'graphile-worker',
    'pg',
    'sharp',
    'highs',
    'bwip-js',
    'pino',
    '@zxcvbn-ts/language-common',
  ],
  turbopack: {
    resolveAlias: {
      // Some 5 kB of every page that no browser uses.
      '../core/json-schema-processors.js': { browser: './lib/platform/no-json-schema.cjs' },
      '../core/to-json-schema.js': { browser: './lib/platform/no-json-schema.cjs' },
    },
  },
  experimental: {
    authInterrupts: true,
    optimizePackageImports: ['@mantine/core', '@mantine/hooks', '@tabler/icons-react'],
  },
};

export default config;
