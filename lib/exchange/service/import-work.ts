import 'server-only';
import type { Actor, CommandContext } from '@/lib/platform/actor';
import { now } from '@/lib/platform/clock';
import { db } from '@/lib/platform/db';
import { AppError } from '@/lib/platform/errors';
import { dropHandedInFile } from '@/lib/platform/handed-in';
import { withTx } from '@/lib/platform/tx';
import { say } from '@/lib/platform/words/say';
import { takeInFind, withdrawFind } from '@/lib/salvage/public';
import { startSummary } from '../dry-run';
import { exchangeEvents } from '../events';
import { importSummary } from '../import-summary';
import {
  clearRows,
  type FoundImport,
  findImport,
  findMadeRecord,
  keepRows,
  markRow,
  moveImport,
  noteImportProgress,
  type RowToKeep,
  readRows,
} from '../repo/imports';
import { judgeRows, keptErrors, openImport } from './import-rows';

const NOTED_EVERY_ROWS = 50;
const EXAMPLES = 20;
const REASONS = 30;

type Job = { actor: Actor; importId: string };

const load = ({ actor, importId }: Job) => findImport(db(), actor.collectionId, importId);
const subject = (run: FoundImport) => ({ subjectType: 'import', subjectId: run.id });
const sentenceOf = (error: unknown): string => (error instanceof Error ? error.message : String(error));

/** Judges every row of an import and keeps what is wrong with it. */
export async function checkRows(job: Job): Promise<void> {
  const run = await load(job);
  if (run?.state !== 'checking') return;
  await clearRows(run.id);
  const summary = startSummary();
  const examples: { line: number; errors: string[] }[] = [];
  let done = { rows: 0, failed: 0 };
  let waiting: RowToKeep[] = [];
  const flush = async () => {
    await keepRows(waiting);
    waiting = [];
    await noteImportProgress(run.id, { rowsDone: done.rows, rowsFailed: done.failed });
  };
  try {
    for await (const row of judgeRows(run, await openImport(run))) {
      summary.add(row);
      done = { rows: done.rows + 1, failed: done.failed + (row.request === null ? 1 : 0) };
      if (row.request === null) {
        waiting.push(rowToKeep(run.id, row, { state: 'not-ready', errors: keptErrors(row) }));
        if (examples.length < EXAMPLES)
          examples.push({ line: row.line, errors: row.errors.map((error) => error.reason) });
      }
      if (done.rows % NOTED_EVERY_ROWS === 0) await flush();
    }
    await flush();
  } catch (error) {
    return end(job, run, 'failed', { failure: sentenceOf(error) });
  }
  const { reasons, ...counts } = summary.read();
  await withTx({ actor: job.actor }, async (work) => {
    await moveImport(work.db, run.id, ['checking'], 'checked', {
      rowsTotal: done.rows,
      rowsDone: 0,
      rowsFailed: 0,
      summary: {
        ...importSummary.parse(run.summary),
        check: { ...counts, reasons: reasons.slice(0, REASONS), examples },
      },
    });
    work.audit(
      exchangeEvents.make('exchange.import-checked', subject(run), {
        fileName: run.fileName,
        rows: counts.rows,
        withErrors: counts.withErrors,
      }),
    );
  });
}

/**
 * Takes every row that can be taken through the same door as a find that a person logs. A second try, after a worker
 * that broke off, makes nothing twice.
 */
export async function runRows(job: Job): Promise<void> {
  const run = await load(job);
  if (run === null || !['running', 'cancelling'].includes(run.state)) return;
  await clearUnmade(run.id);
  const context: CommandContext = { actor: job.actor };
  let done = { rows: 0, failed: 0 };
  let stopped = false;
  let waiting: RowToKeep[] = [];
  const flush = async () => {
    await keepRows(waiting);
    waiting = [];
    const state = await noteImportProgress(run.id, { rowsDone: done.rows, rowsFailed: done.failed });
    stopped = state === 'cancelling';
  };
  try {
    for await (const row of judgeRows(run, await openImport(run))) {
      const kept = rowToKeep(run.id, row, await takeRow(context, row));
      waiting.push(kept);
      done = { rows: done.rows + 1, failed: done.failed + (kept.state === 'made' ? 0 : 1) };
      if (done.rows % NOTED_EVERY_ROWS === 0) await flush();
      if (stopped) break;
    }
    await flush();
  } catch (error) {
    await keepRows(waiting);
    return end(job, run, 'failed', { failure: sentenceOf(error) });
  }
  await end(job, run, stopped ? 'cancelled' : 'done', {});
}

type Taken = Pick<RowToKeep, 'state' | 'errors'> & Partial<RowToKeep>;
type Row = Parameters<typeof keptErrors>[0] & { request: Parameters<typeof takeInFind>[1] | null };

async function takeRow(context: CommandContext, row: Row): Promise<Taken> {
  if (row.request === null) return { state: 'failed', errors: keptErrors(row) };
  try {
    const made = await takeInFind(context, row.request);
    return { state: 'made', errors: [], subjectId: made.id, number: made.number, madeAt: now() };
  } catch (error) {
    if (!(error instanceof AppError) || error.code === 'unavailable') throw error;
    const reasons = error.fields.length > 0 ? error.fields.map((field) => field.message) : [error.message];
    return { state: 'failed', errors: reasons.map((reason) => ({ column: null, reason, readings: [] })) };
  }
}

const rowToKeep = (runId: string, row: Row, taken: Taken): RowToKeep => ({
  runId,
  line: row.line,
  subjectId: null,
  number: null,
  madeAt: null,
  cells: row.cells,
  values: row.values,
  ...taken,
});

/** Rows that a check or a broken-off run could not take are judged anew. */
async function clearUnmade(runId: string): Promise<void> {
  await db().importRow.deleteMany({ where: { runId, state: { in: ['not-ready', 'failed'] } } });
}

async function end(
  job: Job,
  run: FoundImport,
  state: 'done' | 'cancelled' | 'failed',
  { failure }: { failure?: string },
): Promise<void> {
  await withTx({ actor: job.actor }, async (work) => {
    const made = await work.db.importRow.count({ where: { runId: run.id, state: 'made' } });
    const failed = await work.db.importRow.count({ where: { runId: run.id, state: 'failed' } });
    await moveImport(work.db, run.id, ['checking', 'running', 'cancelling'], state, {
      finishedAt: work.now,
      rowsFailed: failed,
      fileId: null,
      summary: { ...importSummary.parse(run.summary), failure: failure ?? null },
    });
    if (run.fileId !== null) await dropHandedInFile(work.db, run.fileId);
    work.audit(
      exchangeEvents.make('exchange.import-ended', subject(run), {
        fileName: run.fileName,
        state,
        made,
        failed,
        failure: failure ?? null,
      }),
    );
  });
}

const OPEN_STATES = ['reported', 'in-triage', 'on-hold'];

/**
 * Takes an import back: each record it made is withdrawn, so that its number stays used and its story told. Records that
 * somebody worked on since are left alone and named.
 */
export async function undoRows(job: Job & { reason: string }): Promise<void> {
  const run = await load(job);
  if (run?.state !== 'undoing') return;
  const context: CommandContext = { actor: job.actor };
  const keptNumbers: string[] = [];
  let takenBack = 0;
  for await (const row of readRows(run.id, ['made'])) {
    const why = row.subjectId === null ? say('it is gone') : await takeBack(context, row, job.reason);
    if (why === null) takenBack += 1;
    else keptNumbers.push(`${row.number ?? say('line {line}', { line: row.line })}: ${why}`);
    await markRow(run.id, row.line, why === null ? 'taken-back' : 'kept');
  }
  await withTx(context, async (work) => {
    await moveImport(work.db, run.id, ['undoing'], 'undone', {
      undoneAt: work.now,
      summary: {
        ...importSummary.parse(run.summary),
        undone: { takenBack, kept: keptNumbers.slice(0, 500) },
      },
    });
    work.audit(
      exchangeEvents.make(
        'exchange.import-undone',
        { ...subject(run), reason: job.reason },
        { fileName: run.fileName, takenBack, kept: keptNumbers.length },
      ),
    );
  });
}

/** Null when the record was taken back, else why it was not. */
async function takeBack(
  context: CommandContext,
  row: { subjectId: string | null; madeAt: Date | null },
  reason: string,
): Promise<string | null> {
  const id = row.subjectId ?? '';
  const record = await findMadeRecord(id, row.madeAt ?? new Date(0));
  if (record === null) return say('it is gone');
  if (record.touchedBy !== null)
    return say('{touchedBy} worked on it since', { touchedBy: record.touchedBy });
  if (record.bird !== null || record.accessionId !== null || !OPEN_STATES.includes(record.state))
    return say('it is {state} by now', { state: record.state.replaceAll('-', ' ') });
  try {
    await withdrawFind(context, id, {
      version: record.version,
      reason: `Import taken back: ${reason}`,
    });
    return null;
  } catch (error) {
    if (error instanceof AppError && error.code !== 'unavailable') return error.message;
    throw error;
  }
}
