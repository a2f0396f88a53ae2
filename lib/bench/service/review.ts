import 'server-only';
import { randomUUID } from 'node:crypto';
import type { z } from 'zod';
import { type ReviewRemarks, reviewRemarks } from '@/lib/bench/documents';
import { benchEvents } from '@/lib/bench/events';
import { abilitiesOf, workersOf } from '@/lib/bench/policy';
import {
  type BareRecord,
  findBareRecord,
  findRecord,
  updateRecord,
  writeDocument,
} from '@/lib/bench/repo/records';
import { type BenchAct, isOpenForEntries, type Lack, listLacks, nextState } from '@/lib/bench/rules';
import { type BenchState, knownStyleId } from '@/lib/bench/schema';
import { COMPARED_FIELDS, type ComparedRecord, loadComparison } from '@/lib/bench/service/comparison';
import { loadQueued, subjectOf } from '@/lib/bench/service/open';
import { loadStyle } from '@/lib/bench/service/styles';
import { judgedOf, loadView } from '@/lib/bench/service/view';
import { plainValues, readSnapshot } from '@/lib/bench/snapshot';
import type { BenchRecord } from '@/lib/bench/wire';
import type { sendRequest, takeBackRequest } from '@/lib/bench/wire-acts';
import { announce } from '@/lib/notices/public';
import { authorise, type CommandContext, personOf } from '@/lib/platform/actor';
import type { Tx } from '@/lib/platform/db';
import { conflict, notValid, staleVersion } from '@/lib/platform/errors';
import { type Work, withTx } from '@/lib/platform/tx';
import { phrases, say } from '@/lib/platform/words/say';

const ACT_WORDS: Record<BenchAct, string> = phrases({
  'send-to-review': 'sent to review',
  'take-back': 'taken back',
  'return-with-remarks': 'returned',
  approve: 'approved',
});

/** Moves the record by its one table. @throws AppError conflict or stale-version */
async function moveRecord(
  work: Work,
  record: BareRecord,
  act: BenchAct,
  {
    version,
    ...data
  }: { version?: number; sentAt?: Date; finishedAt?: Date; lackExplanation?: string | null },
): Promise<void> {
  const to = nextState(record.state as BenchState, act);
  if (to === null) {
    const now = record.state.replace('-', ' ');
    throw conflict(
      say('{prepNumber} is {now} and cannot be {act_words}.', {
        prepNumber: record.prepNumber,
        now,
        act_words: ACT_WORDS[act],
      }),
    );
  }
  const changed = await updateRecord(
    work.db,
    { id: record.id, state: record.state, version },
    { ...data, state: to },
  );
  if (changed === 0) throw staleVersion(say('This record'), { version: record.version, state: record.state });
}

/**
 * Sends the record to review. What a label and a catalogue entry usually hold must be there, or be explained.
 * @throws AppError not-valid naming what is missing; conflict while the carcass is undivided
 */
export async function sendToReview(
  context: CommandContext,
  id: string,
  { version, explanation }: z.output<typeof sendRequest>,
): Promise<BenchRecord> {
  const { actor } = context;
  authorise(actor, 'bench.send');
  return withTx(context, async (work) => {
    const record = await loadQueued(work, id, findRecord);
    authorise(actor, 'bench.send', { ownerIds: workersOf(record) });
    const style = await loadStyle(work.db, actor.collectionId, record.styleId, record.styleVersion);
    const values = plainValues(readSnapshot(record.values));
    const lacks = listLacks(values, style.id);
    const facts = { ...record, state: record.state as BenchState, carcassState: record.bird.state };
    if (isOpenForEntries(facts.state) && !abilitiesOf(actor, facts).send) {
      throw conflict(say('Divide the carcass into its products first; then send the record to review.'));
    }
    const open = reviewRemarks.parse(record.reviewRemarks).filter(({ answer }) => answer === null);
    const problems = [
      ...(explanation?.trim()
        ? []
        : lacks.map((lack) => ({ path: `lacks.${lack.id}`, message: lack.sentence }))),
      ...open.map(({ id: remarkId, remark }) => ({
        path: `remarks.${remarkId}`,
        message: say('Not answered: {remark}', { remark }),
      })),
    ];
    if (problems.length > 0) {
      throw notValid(say('The record was not sent. Fill in what is missing, or say why it is.'), problems);
    }
    await moveRecord(work, record, 'send-to-review', {
      version,
      sentAt: work.now,
      finishedAt: record.finishedAt ?? work.now,
      lackExplanation: lacks.length > 0 ? (explanation ?? null) : null,
    });
    work.audit(
      benchEvents.make('bench.sent-to-review', subjectOf(record, lacks.length > 0 ? explanation : null), {
        prepNumber: record.prepNumber,
        missing: lacks.map(({ sentence }) => sentence),
      }),
    );
    return loadView(work.db, actor, id);
  });
}

/** Takes a record back from review before anybody has decided on it. */
export async function takeBack(
  context: CommandContext,
  id: string,
  { version, reason }: z.output<typeof takeBackRequest>,
): Promise<BenchRecord> {
  const { actor } = context;
  authorise(actor, 'bench.send');
  return withTx(context, async (work) => {
    const record = await loadQueued(work, id, findBareRecord);
    authorise(actor, 'bench.send', { ownerIds: workersOf(record) });
    await moveRecord(work, record, 'take-back', { version });
    work.audit(
      benchEvents.make('bench.taken-back', subjectOf(record, reason), { prepNumber: record.prepNumber }),
    );
    return loadView(work.db, actor, id);
  });
}

/** What the bench says of a record that the catalogue decides upon. */
export interface RecordForReview {
  warnings: BenchRecord['warnings'];
  lacks: Lack[];
  remarks: ReviewRemarks;
}

/** Judges a record for the review desk, which has read it. */
export async function judgeForReview(
  tx: Tx,
  record: ComparedRecord & Pick<BareRecord, 'values' | 'overrides' | 'reviewRemarks' | 'styleId'>,
): Promise<RecordForReview> {
  const snapshot = readSnapshot(record.values);
  const measured = COMPARED_FIELDS.filter((field) => snapshot[field] !== undefined);
  return {
    warnings: judgedOf(record, await loadComparison(tx, record, measured)).warnings,
    lacks: listLacks(plainValues(snapshot), knownStyleId.parse(record.styleId)),
    remarks: reviewRemarks.parse(record.reviewRemarks),
  };
}

/**
 * Returns a record with the reviewer's remarks, inside the caller's transaction; the caller has authorised it.
 * Answered remarks of earlier rounds are kept.
 * @throws AppError conflict when the record is not under review, stale-version when it was changed since
 */
export async function markReturned(
  work: Work,
  input: {
    recordId: string;
    version?: number;
    remarks: readonly { field: string; remark: string }[];
  },
): Promise<void> {
  const record = await loadQueued(work, input.recordId, findRecord);
  await moveRecord(work, record, 'return-with-remarks', { version: input.version });
  const stamp = { at: work.now.toISOString(), by: personOf(work.actor) };
  const remarks: ReviewRemarks = [
    ...reviewRemarks.parse(record.reviewRemarks),
    ...input.remarks.map(({ field, remark }) => ({
      id: randomUUID(),
      field,
      remark,
      ...stamp,
      answer: null,
    })),
  ];
  await writeDocument(work.db, { id: record.id, states: ['returned'] }, 'reviewRemarks', remarks);
  work.audit(
    benchEvents.make('bench.returned', subjectOf(record), {
      prepNumber: record.prepNumber,
      remarks: input.remarks.map(({ field, remark }) => ({ field, remark })),
    }),
  );
  announce(work, {
    subjectType: 'bench-record',
    subjectId: record.id,
    kind: 'bench.returned',
    facts: { prepNumber: record.prepNumber, bird: record.bird.number, remarks: input.remarks.length },
    to: { people: workersOf(record).filter((worker) => worker !== null) },
  });
}

/**
 * Locks a record as approved, inside the caller's transaction; the caller has authorised it and gives the catalogue
 * number. The database refuses every later entry.
 * @throws AppError conflict when the record is not under review, stale-version when it was changed since
 */
export async function markApproved(
  work: Work,
  input: { recordId: string; version?: number },
): Promise<{ birdId: string; prepNumber: string }> {
  const record = await loadQueued(work, input.recordId, findBareRecord);
  await moveRecord(work, record, 'approve', { version: input.version });
  work.audit(benchEvents.make('bench.approved', subjectOf(record), { prepNumber: record.prepNumber }));
  return { birdId: record.birdId, prepNumber: record.prepNumber };
}
