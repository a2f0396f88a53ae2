import type { RouteDescription } from '@/lib/platform/http';
import { currentActor } from '@/lib/platform/identity/session';
import { liveStream } from '@/lib/platform/live-stream';

export const dynamic = 'force-dynamic';

/** Server-sent events: ids of what changed in the reader's collection. */
export const GET = Object.assign(
  async (request: Request): Promise<Response> => {
    const actor = await currentActor();
    if (actor === null) return new Response(null, { status: 401 });
    return new Response(liveStream(actor, request.signal), {
      headers: {
        'content-type': 'text/event-stream',
        'cache-control': 'no-cache, no-transform',
        'x-accel-buffering': 'no',
      },
    });
  },
  { route: { permission: 'workspace.enter', kind: 'read' } satisfies RouteDescription },
);
