import 'server-only';
import type { Actor } from './actor';
import { stillStands } from './identity/standing';
import { type LiveChange, onChange } from './live';
import { log } from './log';

/** A proxy closes a connection that says nothing; each time it is asked whether the listener may still listen. */
const HEARTBEAT_MS = 25_000;

/**
 * Server-sent events of what changed in the actor's collection, ids only. It ends when the reader leaves, and when
 * what let them in has ended: at the next heartbeat, at once where the change is one of their own account. It ends too
 * when changes may have been missed: a page then listens anew and asks again for all it shows.
 */
export function liveStream(actor: Actor, signal: AbortSignal): ReadableStream<Uint8Array> {
  const encoder = new TextEncoder();
  let end = () => {};
  return new ReadableStream<Uint8Array>({
    // The reader may leave without the request being aborted.
    cancel: () => end(),
    start(controller) {
      let listening = true;
      const send = (text: string) => {
        if (listening) controller.enqueue(encoder.encode(text));
      };
      const close = () => {
        if (!listening) return;
        end();
        controller.close();
      };
      const askAgain = async () => {
        if (await standsOrUnknown(actor)) send(': still here\n\n');
        else close();
      };
      const { ready, stop } = onChange({
        hear: (change) => {
          if (change.collectionId === actor.collectionId) send(`data: ${JSON.stringify(change)}\n\n`);
          if (isOfTheirs(change, actor)) void askAgain();
        },
        missed: close,
      });
      const beat = setInterval(() => void askAgain(), HEARTBEAT_MS);
      end = () => {
        listening = false;
        clearInterval(beat);
        stop();
      };
      signal.addEventListener('abort', close);
      void ready.then(() => send(': listening\n\n'));
    },
  });
}

const isOfTheirs = ({ subjectType, subjectId }: LiveChange, { personId }: Actor): boolean =>
  subjectType === 'person' && subjectId === personId;

/** While the database is away nothing changes in it, so nothing is told; who stands is asked at the next heartbeat. */
async function standsOrUnknown(actor: Actor): Promise<boolean> {
  try {
    return await stillStands(actor);
  } catch (error) {
    log().warn({ err: error }, 'whether a listener may still listen could not be asked');
    return true;
  }
}
