import { beforeEach, describe, expect, it } from 'vitest';
import { ChangeQueue, nameChange } from '@/components/bench/change-queue';
import { layOver, type PendingChange } from '@/components/bench/pending';
import type { FieldId } from '@/lib/bench/fields';
import { ApiProblem } from '@/lib/platform/api';

class MemoryStorage {
  readonly kept = new Map<string, string>();
  get length() {
    return this.kept.size;
  }
  key = (at: number) => [...this.kept.keys()][at] ?? null;
  getItem = (name: string) => this.kept.get(name) ?? null;
  setItem = (name: string, text: string) => void this.kept.set(name, text);
  removeItem = (name: string) => void this.kept.delete(name);
}

const problem = (code: string, status: number, fields: { path: string; message: string }[] = []) =>
  new ApiProblem({ code, status, title: code, fields, data: null });

let clock = 0;
const entry = (field: FieldId, value: number): PendingChange => {
  clock += 1;
  return {
    kind: 'entry',
    key: nameChange(),
    atMs: clock,
    field,
    value,
    method: null,
    verbatim: null,
    correction: false,
  };
};

/** A server that can be cut off, and a clock that is turned by hand. */
function makeBench(storage = new MemoryStorage()) {
  const arrived: PendingChange[][] = [];
  const calls: (() => void)[] = [];
  const line: { failure: (() => Error) | null } = { failure: null };
  const queue = new ChangeQueue({
    storage,
    prefix: 'bench ',
    now: () => 0,
    later: (call) => {
      calls.push(call);
      return () => void calls.splice(calls.indexOf(call), 1);
    },
    send: async (batch) => {
      if (line.failure) throw line.failure();
      arrived.push([...batch]);
    },
  });
  return { queue, arrived, calls, line, storage };
}

const settled = () => new Promise((resolve) => setTimeout(resolve, 0));
const valuesOf = (batches: PendingChange[][]) =>
  batches.flat().map((change) => (change.kind === 'entry' ? `${change.field} ${change.value}` : change.kind));

beforeEach(() => {
  clock = 0;
});

describe('ChangeQueue', () => {
  it('sends what is added and keeps nothing of it', async () => {
    const { queue, arrived, storage } = makeBench();
    queue.add([entry('wingMm', 94), entry('tailMm', 71)]);
    await settled();
    expect(valuesOf(arrived)).toEqual(['wingMm 94', 'tailMm 71']);
    expect(queue.getState().pending).toEqual([]);
    expect(storage.length).toBe(0);
  });

  it('keeps changes while the connection is away and sends them in their order on its return', async () => {
    const { queue, arrived, calls, line } = makeBench();
    line.failure = () => problem('offline', 0);
    queue.add([entry('wingMm', 94)]);
    queue.add([{ kind: 'step', key: nameChange(), atMs: 5, step: 'thaw', done: true }]);
    queue.add([entry('tailMm', 71), entry('wingMm', 95)]);
    await settled();
    expect(queue.getState()).toMatchObject({ waiting: { code: 'offline' }, sending: false });
    expect(queue.getState().pending).toHaveLength(4);
    line.failure = null;
    calls.at(-1)?.();
    await settled();
    expect(arrived.map((batch) => batch.length)).toEqual([1, 1, 2]);
    expect(valuesOf(arrived)).toEqual(['wingMm 94', 'step', 'tailMm 71', 'wingMm 95']);
    expect(queue.getState()).toMatchObject({ pending: [], waiting: null });
  });

  it('picks up after a closed page what was not sent, in order', async () => {
    const before = makeBench();
    before.line.failure = () => problem('unavailable', 503);
    before.queue.add([entry('wingMm', 94)]);
    before.queue.add([entry('tailMm', 71)]);
    await settled();
    const { queue, arrived } = makeBench(before.storage);
    await queue.flush();
    expect(valuesOf(arrived)).toEqual(['wingMm 94', 'tailMm 71']);
  });

  it('passes over kept text that is no change', () => {
    const storage = new MemoryStorage();
    storage.setItem('bench x', '{"kind":"entry","field":"wingspread"}');
    storage.setItem('bench y', 'not even JSON');
    storage.setItem('other', '{}');
    expect(makeBench(storage).queue.getState().pending).toEqual([]);
  });

  it('sets aside the one entry that is refused and sends the others', async () => {
    const { queue, arrived, line } = makeBench();
    line.failure = () => {
      line.failure = null;
      return problem('not-valid', 422, [{ path: 'entries.1', message: 'Wing: too long' }]);
    };
    queue.add([entry('massG', 78), entry('wingMm', 5000), entry('tailMm', 71)]);
    await settled();
    expect(queue.getState().refused).toMatchObject([{ change: { value: 5000 }, message: 'Wing: too long' }]);
    expect(valuesOf(arrived)).toEqual(['massG 78', 'tailMm 71']);
  });

  it('stops at a locked record, loses nothing, and goes on when asked', async () => {
    const { queue, arrived, calls, line } = makeBench();
    line.failure = () => problem('conflict', 409);
    queue.add([entry('massG', 78)]);
    await settled();
    expect(queue.getState()).toMatchObject({ stopped: { code: 'conflict' } });
    expect(calls).toHaveLength(0);
    queue.add([entry('wingMm', 94)]);
    line.failure = null;
    queue.retry();
    await settled();
    expect(valuesOf(arrived)).toEqual(['massG 78', 'wingMm 94']);
  });

  it('takes back the last change while it has not left', async () => {
    const { queue, line, storage } = makeBench();
    line.failure = () => problem('offline', 0);
    queue.add([entry('massG', 78)]);
    queue.add([entry('wingMm', 94)]);
    await settled();
    expect(queue.takeBackLast()).toMatchObject({ field: 'wingMm' });
    expect(queue.getState().pending).toHaveLength(1);
    expect(storage.length).toBe(1);
  });
});

describe('layOver', () => {
  const ana = { id: 'ana', name: 'Ana' };
  const shown = (value: number) => ({
    value,
    unit: 'mm',
    verbatim: null,
    method: null,
    at: '2026-03-05T10:00:00Z',
    by: { id: 'ben', name: 'Ben' },
  });
  const record = { values: { wingMm: shown(94), tailMm: shown(71) }, steps: {}, overrides: {} };

  it('shows own changes over the server’s and leaves the rest untouched', () => {
    const live = layOver(record, [entry('tailMm', 72), entry('massG', 61)], ana);
    expect(live.values.tailMm).toMatchObject({ value: 72, pending: true, by: ana });
    expect(live.values.massG?.value).toBe(61);
    expect(live.values.wingMm).toBe(record.values.wingMm);
    expect(layOver(record, [], ana)).toBe(record);
  });

  it('takes away a value and marks a step', () => {
    const remove = { ...entry('tailMm', 0), value: null } as PendingChange;
    const step: PendingChange = { kind: 'step', key: 'k', atMs: 1, step: 'thaw', done: true };
    const live = layOver(record, [remove, step], ana);
    expect(live.values.tailMm).toBeUndefined();
    expect(live.steps.thaw?.by).toBe(ana);
  });
});
