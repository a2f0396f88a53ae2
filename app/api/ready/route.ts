import type { RouteDescription } from '@/lib/platform/http';
import { isReady } from '@/lib/platform/system';

export const dynamic = 'force-dynamic';

/** Whether requests should be sent here: the database answers. */
export const GET = Object.assign(
  async () =>
    (await isReady())
      ? Response.json({ status: 'ready' })
      : Response.json(
          { status: 'waiting for the database' },
          { status: 503, headers: { 'retry-after': '5' } },
        ),
  { route: { permission: 'public', kind: 'read' } satisfies RouteDescription },
);
