import 'server-only';
import type { z } from 'zod';
import { benchEvents } from '@/lib/bench/events';
import { FIELDS, type FieldId, type FieldValue, isFieldId, parseFieldValue } from '@/lib/bench/fields';
import { appendEntries, type EntryRow, findEntries, findTouched } from '@/lib/bench/repo/entries';
import {
  type BareRecord,
  findBareRecord,
  findNames,
  findRecord,
  writeBirdSex,
  writeSnapshot,
} from '@/lib/bench/repo/records';
import { listLacks } from '@/lib/bench/rules';
import { sayFieldValue } from '@/lib/bench/say';
import { knownStyleId } from '@/lib/bench/schema';
import { loadForWriting, subjectOf } from '@/lib/bench/service/open';
import { loadView, namer, shownValues } from '@/lib/bench/service/view';
import { type HeldValue, plainValues, readSnapshot, type Snapshot } from '@/lib/bench/snapshot';
import { findUndo } from '@/lib/bench/undo';
import type { BenchRecord, EntryHistory, WriteAnswer, WrittenValues } from '@/lib/bench/wire';
import type { writeRequest } from '@/lib/bench/wire-acts';
import { applyWrites, type FieldWrite, type HeldEntry } from '@/lib/bench/writing';
import { type Actor, authorise, type CommandContext, personOf } from '@/lib/platform/actor';
import { db } from '@/lib/platform/db';
import { conflict, type FieldProblem, notFound, notValid } from '@/lib/platform/errors';
import type { Changes } from '@/lib/platform/events';
import { type Work, withTx } from '@/lib/platform/tx';
import { say } from '@/lib/platform/words/say';

type Delivery = z.output<typeof writeRequest>;

/**
 * Writes what was entered, in its order. Each value is an entry of its own and supersedes the one before; a delivery
 * that arrives again is passed over; of two people's values for one field the later written holds.
 * @throws AppError not-valid naming each entry that is no value of its field, and then nothing is written
 */
export async function writeEntries(
  context: CommandContext,
  id: string,
  delivery: Delivery,
): Promise<WriteAnswer> {
  const { actor } = context;
  authorise(actor, 'bench.write');
  return withTx(context, async (work) => {
    const by = personOf(actor);
    const record = await loadForWriting(work, id, findBareRecord);
    const writes = readWrites(delivery, work.now.getTime());
    const touched = await findTouched(work.db, id, {
      fields: [...new Set(writes.map(({ field }) => field))],
      keys: writes.map(({ clientKey }) => clientKey),
    });
    const known = new Set(touched.map(({ clientKey }) => clientKey));
    const repeated = writes.filter(({ clientKey }) => known.has(clientKey));
    const fresh = writes.filter(({ clientKey }) => !known.has(clientKey));
    const before = heldOf(touched);
    const result = applyWrites(before, fresh, by);
    let snapshot = readSnapshot(record.values);
    if (result.entries.length > 0) {
      await appendEntries(
        work.db,
        id,
        result.entries.map(({ atMs, by: enteredById, ...entry }) => ({
          ...entry,
          enteredAt: new Date(atMs),
          enteredById,
          undoesId: null,
        })),
        work.now,
      );
      snapshot = await keepHeld(work, record, result.held);
    }
    audit(work, record, 'bench.values-written', changesOf(before, result.held));
    audit(work, record, 'bench.values-kept-as-earlier', outrankedOf(before, result.entries));
    return {
      outcomes: [
        ...result.outcomes,
        ...repeated.map(({ clientKey, field }) => ({ clientKey, field, outcome: 'repeated' as const })),
      ],
      record: {
        values: await valuesOf(work, snapshot),
        earlier: countEarlier([...touched, ...result.entries]),
        lacks: listLacks(plainValues(snapshot), knownStyleId.parse(record.styleId)),
      },
    };
  });
}

async function valuesOf(work: Work, snapshot: Snapshot): Promise<WrittenValues['values']> {
  const writers = Object.values(snapshot).map(({ by }) => by);
  return shownValues(snapshot, namer(await findNames(work.db, writers)));
}

/** How many entries of each field stand behind the one that holds now. */
function countEarlier(entries: readonly { field: string }[]): WrittenValues['earlier'] {
  const earlier: WrittenValues['earlier'] = {};
  const met = new Set<string>();
  for (const { field } of entries) {
    if (met.has(field) && isFieldId(field)) earlier[field] = (earlier[field] ?? 0) + 1;
    met.add(field);
  }
  return earlier;
}

/** Checks each entry against its field, and tells when it was made by how long it waited to be sent. */
function readWrites({ entries, sentAt }: Delivery, nowMs: number): FieldWrite[] {
  const problems: FieldProblem[] = [];
  const sentMs = sentAt === undefined ? nowMs : Date.parse(sentAt);
  const writes = entries.flatMap(({ field, value, method, enteredAt, ...rest }, at): FieldWrite[] => {
    const waitedMs = enteredAt === undefined ? 0 : Math.max(0, sentMs - Date.parse(enteredAt));
    const atMs = nowMs - waitedMs;
    if (value === null) return [{ ...rest, field, value: null, unit: null, method: null, atMs }];
    const parsed = parseFieldValue(field, value, method);
    if (parsed.ok) {
      return [{ ...rest, field, value: parsed.value, unit: parsed.unit, method: parsed.method, atMs }];
    }
    problems.push({ path: `entries.${at}`, message: parsed.message });
    return [];
  });
  if (problems.length > 0) throw notValid(say('Nothing was written.'), problems);
  return writes;
}

/** What each field holds, of its entries. */
const heldOf = (entries: Awaited<ReturnType<typeof findTouched>>): Partial<Record<FieldId, HeldEntry>> =>
  Object.fromEntries(
    entries
      .filter(({ supersededAt }) => supersededAt === null)
      .map((entry) => [
        entry.field,
        {
          value: entry.value as FieldValue | null,
          unit: entry.unit,
          method: entry.method,
          verbatim: entry.verbatim,
          atMs: entry.enteredAt.getTime(),
          by: entry.enteredById,
        },
      ]),
  );

/** Writes the new values into the record's own copy, which is the answer, and the sex to the bird. */
async function keepHeld(
  work: Work,
  record: BareRecord,
  held: Readonly<Partial<Record<FieldId, HeldEntry>>>,
): Promise<Snapshot> {
  const snapshot: Snapshot = readSnapshot(record.values);
  for (const [field, entry] of Object.entries(held) as [FieldId, HeldEntry][]) {
    if (entry.value === null) delete snapshot[field];
    else {
      const { value, unit, verbatim, method, atMs, by } = entry;
      snapshot[field] = {
        value: value as HeldValue['value'],
        unit,
        verbatim,
        method,
        at: new Date(atMs).toISOString(),
        by,
      };
    }
  }
  if ((await writeSnapshot(work.db, record.id, snapshot)) === 0) {
    throw conflict(
      say('{prepNumber} was sent to review or approved a moment ago. Nothing was written.', {
        prepNumber: record.prepNumber,
      }),
    );
  }
  if (held.sex !== undefined) {
    await writeBirdSex(work.db, record.birdId, String(held.sex.value ?? 'undetermined'));
  }
  return snapshot;
}

function changesOf(
  before: Readonly<Partial<Record<FieldId, HeldEntry>>>,
  after: Readonly<Partial<Record<FieldId, HeldEntry>>>,
): Changes {
  return Object.fromEntries(
    (Object.keys(after) as FieldId[]).map((field) => [
      FIELDS[field].label,
      { from: said(field, before[field]), to: said(field, after[field]) },
    ]),
  );
}

/** What came too late: from is what was written, to is what holds. */
function outrankedOf(
  before: Readonly<Partial<Record<FieldId, HeldEntry>>>,
  entries: readonly ({ field: FieldId; outranked: boolean } & HeldEntry)[],
): Changes {
  return Object.fromEntries(
    entries
      .filter(({ outranked }) => outranked)
      .map((entry) => [
        FIELDS[entry.field].label,
        { from: said(entry.field, entry), to: said(entry.field, before[entry.field]) },
      ]),
  );
}

const said = (field: FieldId, entry: HeldEntry | undefined): string | null =>
  sayFieldValue(field, entry?.value ?? null, entry?.method ?? null) || null;

function audit(
  work: Work,
  record: BareRecord,
  kind: 'bench.values-written' | 'bench.values-kept-as-earlier' | 'bench.change-undone',
  changes: Changes,
): void {
  if (Object.keys(changes).length === 0) return;
  work.audit(benchEvents.make(kind, subjectOf(record), { prepNumber: record.prepNumber, changes }));
}

/**
 * Takes back the person's last change that still holds: what stood before holds again, and both are kept.
 * @throws AppError conflict when this person has nothing to take back
 */
export async function undoLast(context: CommandContext, id: string): Promise<BenchRecord> {
  const { actor } = context;
  authorise(actor, 'bench.write');
  return withTx(context, async (work) => {
    const by = personOf(actor);
    const record = await loadForWriting(work, id, findBareRecord);
    const entries = (await findEntries(work.db, id)).filter((entry) => isFieldId(entry.field));
    const found = findUndo(
      entries.map((entry) => ({
        ...entry,
        field: entry.field as FieldId,
        value: entry.value as FieldValue | null,
        by: entry.enteredById,
      })),
      by,
    );
    if (found === null) {
      throw conflict(
        say('There is nothing of yours to take back: others have written since, or nothing is left.'),
      );
    }
    const { undone, before } = found;
    const row: EntryRow = {
      field: undone.field,
      value: before?.value ?? null,
      unit: before?.unit ?? null,
      verbatim: before?.verbatim ?? null,
      method: before?.method ?? null,
      enteredAt: work.now,
      enteredById: by,
      clientKey: null,
      current: true,
      outranked: false,
      undoesId: undone.id,
    };
    await appendEntries(work.db, id, [row], work.now);
    const now: HeldEntry = {
      value: before?.value ?? null,
      unit: row.unit,
      method: row.method,
      verbatim: row.verbatim,
      atMs: work.now.getTime(),
      by,
    };
    await keepHeld(work, record, { [undone.field]: now });
    const taken: HeldEntry = { ...undone, atMs: 0 };
    audit(work, record, 'bench.change-undone', changesOf({ [undone.field]: taken }, { [undone.field]: now }));
    return loadView(work.db, actor, id);
  });
}

/** Everything that was written in a field, newest first, with who and when. */
export async function listFieldEntries(actor: Actor, id: string, field: FieldId): Promise<EntryHistory> {
  authorise(actor, 'bench.see');
  const record = await findRecord(db(), actor.collectionId, id);
  if (record === null) throw notFound(say('This bench record'));
  const entries = await findEntries(db(), id, field);
  const named = namer(
    await findNames(
      db(),
      entries.map(({ enteredById }) => enteredById),
    ),
  );
  return {
    entries: entries
      .map((entry) => ({
        id: entry.id,
        value: entry.value as HeldValue['value'],
        unit: entry.unit,
        verbatim: entry.verbatim,
        method: entry.method,
        at: entry.enteredAt.toISOString(),
        by: named(entry.enteredById),
        current: entry.supersededAt === null,
        outranked: entry.outranked,
        undo: entry.undoesId !== null,
      }))
      .reverse(),
  };
}
