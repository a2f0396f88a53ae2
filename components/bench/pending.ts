import { z } from 'zod';
import { mergeValue } from '@/lib/bench/entries';
import { FIELD_IDS, FIELDS, type FieldId, type FieldValue } from '@/lib/bench/fields';
import type { BenchRecord, ShownValue } from '@/lib/bench/wire';

const made = { key: z.string(), atMs: z.number() };

/** A change that was made here and has not been confirmed by the server. */
export const pendingChange = z.discriminatedUnion('kind', [
  z.object({
    ...made,
    kind: z.literal('entry'),
    field: z.enum(FIELD_IDS as [FieldId, ...FieldId[]]),
    /** Null takes the value away. */
    value: z.json(),
    method: z.string().nullable(),
    verbatim: z.string().nullable(),
    correction: z.boolean(),
  }),
  z.object({ ...made, kind: z.literal('step'), step: z.string(), done: z.boolean() }),
  z.object({ ...made, kind: z.literal('override'), warning: z.string(), reason: z.string().nullable() }),
]);
export type PendingChange = z.infer<typeof pendingChange>;
export type PendingEntry = Extract<PendingChange, { kind: 'entry' }>;

/** A value as it is shown: the server's, or one of our own on its way there. */
export type LiveValue = ShownValue & { pending?: true };

export interface LiveRecord {
  values: Partial<Record<FieldId, LiveValue>>;
  steps: BenchRecord['steps'];
  overrides: BenchRecord['overrides'];
}

/**
 * The record as this person sees it: what the server has, with the own changes that wait laid over it. What no change
 * touches stays the same object, so that only what changed is drawn again.
 */
export function layOver(
  record: LiveRecord,
  pending: readonly PendingChange[],
  me: { id: string; name: string },
): LiveRecord {
  if (pending.length === 0) return record;
  const values = { ...record.values };
  const steps = { ...record.steps };
  const overrides = { ...record.overrides };
  for (const change of pending) {
    const stamp = { at: new Date(change.atMs).toISOString(), by: me };
    if (change.kind === 'entry') {
      const value = valueAfter(values[change.field]?.value, change);
      if (value === null) delete values[change.field];
      else {
        const { method, verbatim } = change;
        const unit = FIELDS[change.field].unit;
        values[change.field] = { value, unit, method, verbatim, ...stamp, pending: true };
      }
    } else if (change.kind === 'step') {
      if (change.done) steps[change.step] = stamp;
      else delete steps[change.step];
    } else if (change.reason === null) delete overrides[change.warning];
    else overrides[change.warning] = { ...stamp, reason: change.reason };
  }
  return { values, steps, overrides };
}

function valueAfter(before: unknown, { field, value, correction }: PendingEntry): ShownValue['value'] | null {
  if (value === null) return null;
  return mergeValue(field, before, value as FieldValue, correction) as ShownValue['value'];
}

/** Changes that go to the server in one request: entries that follow one another, anything else alone. */
export function nextBatch(pending: readonly PendingChange[], most = 100): PendingChange[] {
  const [first] = pending;
  if (first === undefined) return [];
  if (first.kind !== 'entry') return [first];
  const end = pending.findIndex((change) => change.kind !== 'entry');
  return pending.slice(0, Math.min(end === -1 ? pending.length : end, most));
}
