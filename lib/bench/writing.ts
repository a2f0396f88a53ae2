import { mergeValue } from '@/lib/bench/entries';
import { FIELDS, type FieldId, type FieldValue } from '@/lib/bench/fields';

/** One change of a field as it was made, perhaps a while before it arrived. A null value takes the field away. */
export interface FieldWrite {
  field: FieldId;
  value: FieldValue | null;
  unit: string | null;
  method: string | null;
  verbatim: string | null;
  correction: boolean;
  clientKey: string;
  /** Instant at which it was made, ms since 1970. */
  atMs: number;
}

/** What a field holds at the moment; a null value was taken away. */
export interface HeldEntry {
  value: FieldValue | null;
  unit: string | null;
  method: string | null;
  verbatim: string | null;
  atMs: number;
  by: string;
}

/**
 * `written` holds now; `unchanged` said what was there already; `outranked` was made before what somebody else has
 * written meanwhile, and is kept as an earlier value.
 */
export type WriteOutcome = 'written' | 'unchanged' | 'outranked';

export interface WrittenEntry extends HeldEntry {
  field: FieldId;
  clientKey: string;
  outranked: boolean;
  /** Is it the value that the field holds after this delivery? */
  current: boolean;
}

export interface WriteResult {
  /** In the order of the writes; every one is kept, whether it holds or not. */
  entries: WrittenEntry[];
  /** What the touched fields hold afterwards. */
  held: Partial<Record<FieldId, HeldEntry>>;
  outcomes: { clientKey: string; field: FieldId; outcome: WriteOutcome }[];
}

/**
 * Applies the writes of one person, in their order, to what the fields hold. Of two people who wrote the same field
 * the later one counts, by when they wrote it and not by when it arrived; lists gather what both added.
 */
export function applyWrites(
  before: Readonly<Partial<Record<FieldId, HeldEntry>>>,
  writes: readonly FieldWrite[],
  by: string,
): WriteResult {
  const held: Partial<Record<FieldId, HeldEntry>> = {};
  const entries: Omit<WrittenEntry, 'current'>[] = [];
  const holders = new Map<FieldId, number>();
  const outcomes: WriteResult['outcomes'] = [];
  for (const write of writes) {
    const { field, clientKey, unit, method, verbatim, atMs } = write;
    const now = held[field] ?? before[field];
    const value =
      write.value === null ? null : mergeValue(field, now?.value ?? undefined, write.value, write.correction);
    if (same(value, now?.value) && (value === null || same(method, now?.method))) {
      outcomes.push({ clientKey, field, outcome: 'unchanged' });
      continue;
    }
    const gathers = FIELDS[field].merge === 'add' && !write.correction && write.value !== null;
    const outranked = now !== undefined && now.by !== by && atMs < now.atMs && !gathers;
    const entry = { value, unit, method, verbatim, atMs, by };
    entries.push({ ...entry, field, clientKey, outranked });
    outcomes.push({ clientKey, field, outcome: outranked ? 'outranked' : 'written' });
    if (outranked) continue;
    held[field] = entry;
    holders.set(field, entries.length - 1);
  }
  return {
    entries: entries.map((entry, at) => ({ ...entry, current: holders.get(entry.field) === at })),
    held,
    outcomes,
  };
}

const same = (a: unknown, b: unknown): boolean => JSON.stringify(a ?? null) === JSON.stringify(b ?? null);
