import { performance } from 'node:perf_hooks';
import { setTimeout } from 'node:timers/promises';
import { quantile } from 'd3-array';
import { type LiveChange, liveChange } from '@/lib/platform/live';
import type { Act } from './acts';
import type { BenchPerson } from './person';
import { residentMb } from './server';

export const LISTENERS = 200;
const QUIET_MS = 2_000;
const LONGEST_WAIT_MS = 30_000;

/** What open pages cost a server, and how long one change takes from being sent until they hear of it. */
export type LiveFigures = {
  listeners: number;
  /** Resident memory of the server, in MB. */
  beforeMb: number;
  afterMb: number;
  heard: number;
  medianMs: number;
  longestMs: number;
};

/** A page's open connection: `at` is when it first heard of a change. */
class Listener {
  private readonly leaving = new AbortController();
  private heardAt: number | null = null;

  static async open(person: BenchPerson): Promise<Listener> {
    const listener = new Listener();
    const answer = await fetch(`${person.url}/api/live`, {
      headers: person.headers,
      signal: listener.leaving.signal,
    });
    if (!answer.ok || answer.body === null) throw new Error(`/api/live answered ${answer.status}.`);
    const reader = answer.body.getReader();
    // The first lines say that the server listens.
    await reader.read();
    void listener.listen(reader).catch(() => undefined);
    return listener;
  }

  private async listen(reader: ReadableStreamDefaultReader<Uint8Array>): Promise<void> {
    const decoder = new TextDecoder();
    let kept = '';
    for (let part = await reader.read(); !part.done; part = await reader.read()) {
      const messages = (kept + decoder.decode(part.value, { stream: true })).split('\n\n');
      kept = messages.pop() ?? '';
      if (messages.some((message) => changeOf(message) !== null)) this.heardAt ??= performance.now();
    }
  }

  get at(): number | null {
    return this.heardAt;
  }

  leave(): void {
    this.leaving.abort();
  }
}

/** The change that a server-sent event tells of; null for a sign of life. */
export function changeOf(message: string): LiveChange | null {
  if (!message.startsWith('data: ')) return null;
  return liveChange.parse(JSON.parse(message.slice('data: '.length)));
}

/** Opens so many connections at a server that has hardly worked yet, sends one change, and closes them. */
export async function measureLive(person: BenchPerson, pid: number, change: Act): Promise<LiveFigures> {
  const first = await Listener.open(person);
  await person.send(change.request(0));
  first.leave();
  await setTimeout(QUIET_MS);
  const beforeMb = await residentMb(pid);
  const listeners = await Promise.all(Array.from({ length: LISTENERS }, () => Listener.open(person)));
  await setTimeout(QUIET_MS);
  const afterMb = await residentMb(pid);
  const begun = performance.now();
  if (!(await person.send(change.request(1)))) throw new Error(`${change.name} was refused.`);
  while (listeners.some(({ at }) => at === null) && performance.now() - begun < LONGEST_WAIT_MS)
    await setTimeout(5);
  const took = listeners.flatMap(({ at }) => (at === null ? [] : [at - begun]));
  for (const listener of listeners) listener.leave();
  return {
    listeners: LISTENERS,
    beforeMb,
    afterMb,
    heard: took.length,
    medianMs: quantile(took, 0.5) ?? 0,
    longestMs: quantile(took, 1) ?? 0,
  };
}
