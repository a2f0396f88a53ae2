import type { NextConfig } from 'next';

const config: NextConfig = {
  poweredByHeader: false,
  reactStrictMode: true,
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
