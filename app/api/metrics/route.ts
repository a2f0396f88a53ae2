import { defineFileRoute } from '@/lib/platform/http';
import { readMetrics } from '@/lib/platform/system';

/** For Prometheus, with a token of an administrator whose scope is metrics.see. */
export const GET = defineFileRoute({
  permission: 'metrics.see',
  service: async () => ({
    body: await readMetrics(),
    mediaType: 'text/plain; version=0.0.4; charset=utf-8',
    fileName: 'metrics.txt',
    inline: true,
  }),
});
