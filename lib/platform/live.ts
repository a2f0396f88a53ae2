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

type Listener = {
  hear(change: LiveChange): void;
  /** Changes may have been missed: the connection that listens broke and was made again. */
  missed(): void;
};
type Hub = {
  listeners: Set<Listener>;
  client: pg.Client | null;
  connecting: Promise<void> | null;
  /** Somebody listened while there was no connection. */
  hasGap: boolean;
};

const holder = globalThis as unknown as { furculaHub?: Hub };
const RETRY_MS = 2_000;
const KEEP_ALIVE_MS = 30_000;

function hub(): Hub {
  holder.furculaHub ??= { listeners: new Set(), client: null, connecting: null, hasGap: false };
  return holder.furculaHub;
}

/**
 * Tells the listener of each change that is committed from when `ready` settles until `stop` is called. While the
 * database is away `ready` settles too; the listener is told that it missed something when it is back.
 */
export function onChange(listener: Listener): { ready: Promise<void>; stop: () => void } {
  const { listeners } = hub();
  listeners.add(listener);
  return { ready: ensureListening(), stop: () => void listeners.delete(listener) };
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
  // Kept alive: a connection that only listens would else be dropped unnoticed by what lies between.
  const client = new pg.Client({
    connectionString: settings().DATABASE_URL,
    keepAlive: true,
    keepAliveInitialDelayMillis: KEEP_ALIVE_MS,
  });
  const lost = () => {
    if (current.client !== null && current.client !== client) return;
    current.client = null;
    if (current.listeners.size === 0) return;
    current.hasGap = true;
    setTimeout(() => void ensureListening(), RETRY_MS).unref();
  };
  client.on('error', (error) => log().warn({ err: error }, 'live connection lost'));
  client.on('end', lost);
  client.on('notification', ({ payload }) => {
    const change = liveChange.safeParse(JSON.parse(payload ?? 'null'));
    if (change.success) for (const listener of [...current.listeners]) listener.hear(change.data);
  });
  try {
    await client.connect();
    await client.query('LISTEN furcula');
    current.client = client;
  } catch (error) {
    log().warn({ err: error }, 'live connection refused');
    lost();
    return;
  }
  if (!current.hasGap) return;
  current.hasGap = false;
  for (const listener of [...current.listeners]) listener.missed();
}
