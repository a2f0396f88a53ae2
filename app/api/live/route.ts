import type { RouteDescription } from '@/lib/platform/http';
import { currentActor } from '@/lib/platform/identity/session';
import { onChange } from '@/lib/platform/live';

export const dynamic = 'force-dynamic';
const HEARTBEAT_MS = 25_000;

/** Server-sent events: ids of what changed in the reader's collection. */
export const GET = Object.assign(
  async (request: Request): Promise<Response> => {
    const actor = await currentActor();
    if (actor === null) return new Response(null, { status: 401 });
    const encoder = new TextEncoder();
    let leave = () => {};
    const stream = new ReadableStream<Uint8Array>({
      start(controller) {
        const send = (text: string) => controller.enqueue(encoder.encode(text));
        const stop = onChange((change) => {
          if (change.collectionId === actor.collectionId) send(`data: ${JSON.stringify(change)}\n\n`);
        });
        const beat = setInterval(() => send(': still here\n\n'), HEARTBEAT_MS);
        leave = () => {
          clearInterval(beat);
          stop();
          request.signal.removeEventListener('abort', end);
        };
        // A reader that went away has closed the stream itself.
        const end = () => {
          leave();
          controller.close();
        };
        request.signal.addEventListener('abort', end);
        send(': listening\n\n');
      },
      cancel: () => leave(),
    });
    return new Response(stream, {
      headers: {
        'content-type': 'text/event-stream',
        'cache-control': 'no-cache, no-transform',
        'x-accel-buffering': 'no',
      },
    });
  },
  { route: { permission: 'workspace.enter', kind: 'read' } satisfies RouteDescription },
);
