import type { RouteDescription } from '@/lib/platform/http';

export const dynamic = 'force-dynamic';

/** Whether this process runs; it asks nobody. */
export const GET = Object.assign(async () => Response.json({ status: 'running' }), {
  route: { permission: 'public', kind: 'read' } satisfies RouteDescription,
});
