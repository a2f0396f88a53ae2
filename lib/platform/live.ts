import 'server-only';
import pg from 'pg';
import { z } from 'zod';
import { settings } from './env';
import { log } from './log';

/** What a page hears of a committed change: ids only; it then asks for what it may see. */
export const liveChange = z.object({
  collectionId: z.uuid(),
  seq: z.number(),
  kind: z.string(),
  subjectType: z.string(),
  subjectId: z.uuid(),
  birdId: z.uuid().nullable(),
  actorId: z.uuid().nullable(),
});
export type LiveChange = z.infer<typeof liveChange>;

type Listener = (change: LiveChange) => void;
type Hub = { listeners: Set<Listener>; client: pg.Client | null; connecting: Promise<void> | null };

const holder = globalThis as unknown as { furculaHub?: Hub };
const RETRY_MS = 2_000;

function hub(): Hub {
  holder.furculaHub ??= { listeners: new Set(), client: null, connecting: null };
  return holder.furculaHub;
}

/** Calls the listener for each committed change until the returned function is called. */
export function onChange(listener: Listener): () => void {
  const { listeners } = hub();
  listeners.add(listener);
  void ensureListening();
  return () => void listeners.delete(listener);
}

/** One dedicated connection a process listens; it is made again when it breaks. */
async function ensureListening(): Promise<void> {
  const current = hub();
  if (current.client !== null) return;
  current.connecting ??= connect(current).finally(() => {
    current.connecting = null;
  });
  await current.connecting;
}

async function connect(current: Hub): Promise<void> {
  const client = new pg.Client({ connectionString: settings().DATABASE_URL });
  const lost = () => {
    current.client = null;
    if (current.listeners.size > 0) setTimeout(() => void ensureListening(), RETRY_MS).unref();
  };
  client.on('error', (error) => log().warn({ err: error }, 'live connection lost'));
  client.on('end', lost);
  client.on('notification', ({ payload }) => {
    const change = liveChange.safeParse(JSON.parse(payload ?? 'null'));
    if (change.success) for (const listener of current.listeners) listener(change.data);
  });
  try {
    await client.connect();
    await client.query('LISTEN furcula');
    current.client = client;
  } catch (error) {
    log().warn({ err: error }, 'live connection refused');
    lost();
  }
}
