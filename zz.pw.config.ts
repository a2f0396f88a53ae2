import { defineConfig } from '@playwright/test';
export default defineConfig({ testDir: process.env.PWDIR ?? 'tests/e2e', workers: 1, timeout: 600_000, expect:{timeout:15000}, outputDir: '/tmp/pwout', use: { baseURL: 'http://127.0.0.1:3300', launchOptions: { executablePath: '/usr/bin/chromium', args: ['--no-sandbox'] } } });
