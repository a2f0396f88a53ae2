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
    let end = () => {};
    const stream = new ReadableStream<Uint8Array>({
      // The reader may leave without the request being aborted.
      cancel: () => end(),
      start(controller) {
        let listening = true;
        const send = (text: string) => controller.enqueue(encoder.encode(text));
        const stop = onChange((change) => {
          if (change.collectionId === actor.collectionId) send(`data: ${JSON.stringify(change)}\n\n`);
        });
        const beat = setInterval(() => send(': still here\n\n'), HEARTBEAT_MS);
        end = () => {
          listening = false;
          clearInterval(beat);
          stop();
        };
        request.signal.addEventListener('abort', () => {
          if (!listening) return;
          end();
          controller.close();
        });
        send(': listening\n\n');
      },
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
