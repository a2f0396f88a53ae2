import type { NextConfig } from 'next';

const config: NextConfig = {
  poweredByHeader: false,
  reactStrictMode: true,
  serverExternalPackages: ['pdfkit', '@node-rs/argon2', 'graphile-worker', 'pg', 'sharp', 'highs', 'bwip-js', 'pino'],
  experimental: {
    authInterrupts: true,
    optimizePackageImports: ['@mantine/core', '@mantine/hooks', '@tabler/icons-react'],
  },
};

export default config;
