import { ApiProblem, type Problem } from '@/lib/platform/api';
import { say } from '@/lib/platform/words/say';
import { nextBatch, type PendingChange, pendingChange } from './pending';

export interface QueueState {
  /** In the order in which they were made; the first ones may be on their way. */
  pending: readonly PendingChange[];
  sending: boolean;
  /** Why the first one could not be sent yet; it is tried again. */
  waiting: Problem | null;
  /** Why nothing more can be sent until somebody decides. */
  stopped: Problem | null;
  /** Changes that the server will never take, with why. */
  refused: readonly { change: PendingChange; message: string }[];
  lastSavedAt: string | null;
}

export interface QueueOutlets {
  /** Where changes survive a closed page; null where there is nothing like it. */
  storage: Pick<Storage, 'getItem' | 'setItem' | 'removeItem' | 'key' | 'length'> | null;
  /** Begins the names under which changes are kept: one for each person and record. */
  prefix: string;
  /** Sends one batch. @throws ApiProblem */
  send: (batch: readonly PendingChange[]) => Promise<void>;
  now: () => number;
  /** Calls back after a while; answers what stops it. */
  later: (call: () => void, ms: number) => () => void;
}

const RETRY_MS = [1_000, 2_000, 4_000, 8_000, 15_000];

/** The connection or the server is away for a while: the same request may work later. */
const isPassing = ({ status, code }: Problem): boolean =>
  code === 'offline' || status === 401 || status === 429 || status >= 500;

/**
 * The changes of one person to one record, sent in their order and once each, also across a lost connection or a
 * closed page. Each is kept on its own, so that two windows of one person do not erase each other's.
 */
export class ChangeQueue {
  private state: QueueState;
  private readonly listeners = new Set<() => void>();
  private attempts = 0;
  private stopRetry: (() => void) | null = null;

  constructor(private readonly out: QueueOutlets) {
    this.state = {
      pending: this.readKept(),
      sending: false,
      waiting: null,
      stopped: null,
      refused: [],
      lastSavedAt: null,
    };
  }

  getState = (): QueueState => this.state;

  subscribe = (listener: () => void): (() => void) => {
    this.listeners.add(listener);
    return () => void this.listeners.delete(listener);
  };

  /** Takes changes in and sends them as soon as it can. */
  add(changes: readonly PendingChange[]): void {
    for (const change of changes) this.keep(change);
    this.change({ pending: [...this.state.pending, ...changes] });
    void this.flush();
  }

  /** Takes back the last change if it has not left yet; null when there is none. */
  takeBackLast(): PendingChange | null {
    const last = this.state.pending.at(-1);
    if (last === undefined || (this.state.sending && nextBatch(this.state.pending).includes(last)))
      return null;
    this.drop([last]);
    return last;
  }

  /** Tries again at once: the connection is back, or somebody asked for it. */
  retry = (): void => {
    this.change({ stopped: null });
    void this.flush();
  };

  /** Gives up what cannot be sent. */
  discard(): void {
    const { pending } = this.state;
    this.change({ stopped: null, waiting: null, refused: [] });
    this.drop(pending);
  }

  forgetRefused = (): void => this.change({ refused: [] });

  async flush(): Promise<void> {
    this.stopRetry?.();
    while (!this.state.sending && this.state.stopped === null) {
      const batch = nextBatch(this.state.pending);
      if (batch.length === 0) return;
      this.change({ sending: true });
      try {
        await this.out.send(batch);
        this.attempts = 0;
        this.change({ sending: false, waiting: null, lastSavedAt: new Date(this.out.now()).toISOString() });
        this.drop(batch);
      } catch (error) {
        this.change({ sending: false });
        if (!this.settle(error, batch)) return;
      }
    }
  }

  /** Whether the queue can go on after a failure. */
  private settle(error: unknown, batch: readonly PendingChange[]): boolean {
    const problem = error instanceof ApiProblem ? error.problem : unexpected(error);
    if (isPassing(problem)) {
      this.change({ waiting: problem });
      const wait = RETRY_MS[Math.min(this.attempts, RETRY_MS.length - 1)] ?? 15_000;
      this.attempts += 1;
      this.stopRetry = this.out.later(() => void this.flush(), wait);
      return false;
    }
    const refused = problem.code === 'not-valid' ? refusedOf(problem, batch) : [];
    if (refused.length === 0) {
      this.change({ stopped: problem });
      return false;
    }
    this.change({ refused: [...this.state.refused, ...refused] });
    this.drop(refused.map(({ change }) => change));
    return true;
  }

  private drop(changes: readonly PendingChange[]): void {
    const keys = new Set(changes.map(({ key }) => key));
    for (const key of keys) this.out.storage?.removeItem(this.out.prefix + key);
    this.change({ pending: this.state.pending.filter(({ key }) => !keys.has(key)) });
  }

  private keep(change: PendingChange): void {
    try {
      this.out.storage?.setItem(this.out.prefix + change.key, JSON.stringify(change));
    } catch {
      // Storage is full or forbidden: the change stays in memory and is sent from there.
    }
  }

  private readKept(): PendingChange[] {
    const { storage, prefix } = this.out;
    if (storage === null) return [];
    const kept: PendingChange[] = [];
    for (let at = 0; at < storage.length; at += 1) {
      const name = storage.key(at);
      if (!name?.startsWith(prefix)) continue;
      const parsed = pendingChange.safeParse(parseJson(storage.getItem(name)));
      if (parsed.success) kept.push(parsed.data);
    }
    return kept.sort((a, b) => a.atMs - b.atMs || (a.key < b.key ? -1 : 1));
  }

  private change(part: Partial<QueueState>): void {
    this.state = { ...this.state, ...part };
    for (const listener of this.listeners) listener();
  }
}

/** An answer that could not be read: nobody knows what became of the changes, so they stay. */
const unexpected = (error: unknown): Problem => ({
  code: 'unexpected',
  title: say('The answer of the server could not be read ({string}).', {
    string: error instanceof Error ? error.message : String(error),
  }),
  status: 0,
  fields: [],
  data: null,
});

function parseJson(text: string | null): unknown {
  try {
    return JSON.parse(text ?? 'null');
  } catch {
    return null;
  }
}

/** The changes of a batch that the server named as wrong; a batch of one that was refused is that one. */
function refusedOf(
  problem: Problem,
  batch: readonly PendingChange[],
): { change: PendingChange; message: string }[] {
  const [only] = batch;
  if (only !== undefined && batch.length === 1) {
    return [{ change: only, message: problem.fields[0]?.message ?? problem.title }];
  }
  return problem.fields.flatMap(({ path, message }) => {
    const change = batch[Number(/^entries\.(\d+)/.exec(path)?.[1] ?? Number.NaN)];
    return change === undefined ? [] : [{ change, message }];
  });
}

let serial = 0;

/** A name for a change: sorts in the order of making within one millisecond of one page. */
export function nameChange(): string {
  serial += 1;
  const random = crypto
    .getRandomValues(new Uint32Array(2))
    .reduce((text, part) => text + part.toString(36), '');
  return `${String(serial).padStart(6, '0')}-${random}`;
}
