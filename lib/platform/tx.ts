import 'server-only';
import { say } from '@/lib/platform/words/say';
import type { Actor, CommandContext } from './actor';
import { now } from './clock';
import { db, type Tx } from './db';
import { AppError, conflict } from './errors';
import { Prisma } from './generated/prisma/client';
import { writtenInEnglish } from './words/written';

/** An audit event as a stage's events.ts makes it; the database adds order and digest. */
export type AuditDraft = {
  kind: string;
  subjectType: string;
  subjectId: string;
  birdId?: string | null;
  payload: Prisma.InputJsonValue;
  reason?: string | null;
};

/** One command's transaction: the database, who acts, when, and where its events go. */
export type Work = {
  db: Tx;
  actor: Actor;
  now: Date;
  audit(event: AuditDraft): void;
  enqueue(task: string, payload: Prisma.InputJsonValue, options?: { runAt?: Date; jobKey?: string }): void;
};

/** Status of a kept answer: the command is done, and the body holds what its transaction knew of the answer. */
export const DONE = 202;
/** … the body is the answer as it was sent. */
export const ANSWERED = 200;
/** … the answer is not kept. */
export const GIVEN_ONCE = 409;

type QueuedJob = { task: string; payload: Prisma.InputJsonValue; runAt: Date | null; jobKey: string | null };

const RETRIED = new Set(['P2034', '40001', '40P01']);
const ATTEMPTS = 4;

/**
 * Runs a command in one transaction. Audit events, jobs and the answer to a repeated delivery are written with it,
 * last, so that the lock on the audit chain is short. A transaction that wrote something but recorded no audit event
 * is rolled back. Deadlocks and serialization failures are tried again.
 * @throws AppError from the command; Error when a mutation recorded no audit event.
 */
export async function withTx<T>(context: CommandContext, command: (work: Work) => Promise<T>): Promise<T> {
  for (let attempt = 1; ; attempt += 1) {
    try {
      return await writtenInEnglish(() =>
        db().$transaction((tx) => runCommand(tx, context, command), { maxWait: 15_000, timeout: 30_000 }),
      );
    } catch (error) {
      if (attempt < ATTEMPTS && isRetriable(error)) continue;
      throw translateDatabaseError(error);
    }
  }
}

async function runCommand<T>(
  tx: Tx,
  context: CommandContext,
  command: (work: Work) => Promise<T>,
): Promise<T> {
  const events: AuditDraft[] = [];
  const jobs: QueuedJob[] = [];
  const at = now();
  await waitForTwin(tx, context);
  const result = await command({
    db: tx,
    actor: context.actor,
    now: at,
    audit: (event) => void events.push(event),
    enqueue: (task, payload, options = {}) =>
      void jobs.push({ task, payload, runAt: options.runAt ?? null, jobKey: options.jobKey ?? null }),
  });
  if (events.length === 0) {
    await refuseUnauditedWrite(tx);
    return result;
  }
  for (const job of jobs) {
    await tx.$executeRaw`SELECT graphile_worker.add_job(${job.task}, ${JSON.stringify(job.payload)}::json,
      run_at => ${job.runAt}::timestamptz, job_key => ${job.jobKey})`;
  }
  if (context.idempotency !== undefined) await keepAnswer(tx, context, result);
  await recordEvents(tx, context, events, at);
  return result;
}

/**
 * Deliveries under one key that come at the same moment go one after the other, whatever process they came to.
 * @throws AppError conflict when the one before carried the command out; its answer is kept.
 */
async function waitForTwin(tx: Tx, { actor, idempotency }: CommandContext): Promise<void> {
  if (idempotency === undefined || actor.personId === null) return;
  const { personId } = actor;
  const { key } = idempotency;
  await takeTurns(tx, `delivery ${personId} ${key}`);
  const kept = await tx.idempotencyKey.findUnique({
    where: { personId_key: { personId, key } },
    select: { key: true },
  });
  if (kept !== null)
    throw conflict(say('This was carried out already, and its answer was lost. Reload to see what stands.'));
}

/**
 * Makes all transactions that ask for this name, in whatever process, wait for each other until they end. Unlike a row's
 * lock it is no write: a transaction that changes nothing stays a read.
 */
export async function takeTurns(tx: Tx, name: string): Promise<void> {
  await tx.$executeRaw`SELECT pg_advisory_xact_lock(hashtextextended(${name}, 0))`;
}

/** In one statement, the same however many there are: the text of a createMany is made anew each time. */
const recordEvents = (
  tx: Tx,
  { actor, requestId }: CommandContext,
  events: readonly AuditDraft[],
  at: Date,
): Promise<number> => tx.$executeRaw`
  INSERT INTO "AuditEvent" (id, "collectionId", at, "actorId", "actorName", "birdId", "subjectType", "subjectId", kind,
    payload, reason, "requestId")
  SELECT uuidv7(), ${actor.collectionId}::uuid, ${at}::timestamptz, ${actor.personId}::uuid, ${actor.name}, e."birdId",
    e."subjectType", e."subjectId", e.kind, e.payload, e.reason, ${requestId ?? null}
  FROM jsonb_to_recordset(${JSON.stringify(events)}::jsonb)
    AS e("birdId" uuid, "subjectType" text, "subjectId" uuid, kind text, payload jsonb, reason text)`;

async function refuseUnauditedWrite(tx: Tx): Promise<void> {
  const [row] = await tx.$queryRaw<
    { wrote: boolean }[]
  >`SELECT pg_current_xact_id_if_assigned() IS NOT NULL AS wrote`;
  if (row?.wrote) throw new Error('A command changed data without an audit event; it was rolled back.');
}

async function keepAnswer(tx: Tx, { actor, idempotency }: CommandContext, result: unknown): Promise<void> {
  if (idempotency === undefined || actor.personId === null) return;
  await tx.idempotencyKey.create({
    data: {
      key: idempotency.key,
      personId: actor.personId,
      route: idempotency.route,
      bodyDigest: idempotency.bodyDigest,
      status: idempotency.once ? GIVEN_ONCE : DONE,
      body: idempotency.once ? {} : (JSON.parse(JSON.stringify(result ?? null)) as Prisma.InputJsonValue),
    },
  });
}

function databaseCode(error: unknown): string | undefined {
  if (error instanceof Prisma.PrismaClientKnownRequestError) {
    const cause = (error.meta?.driverAdapterError as { cause?: { originalCode?: string } } | undefined)
      ?.cause;
    return cause?.originalCode ?? error.code;
  }
  const cause = (error as { cause?: { originalCode?: string; code?: string } } | undefined)?.cause;
  return cause?.originalCode ?? cause?.code;
}

function isRetriable(error: unknown): boolean {
  if (error instanceof Prisma.PrismaClientKnownRequestError && RETRIED.has(error.code)) return true;
  const code = databaseCode(error);
  return code !== undefined && RETRIED.has(code);
}

/** A constraint of the database that said no becomes a conflict a person can read. */
function translateDatabaseError(error: unknown): unknown {
  if (error instanceof AppError) return error;
  const code = databaseCode(error);
  if (code === 'P2002' || code === '23505' || code === '23P01') {
    return conflict(say('Somebody else took this number, place or bird a moment ago. Reload and try again.'));
  }
  if (code === 'FU001') {
    return conflict(
      error instanceof Error ? readableTail(error.message) : say('The database refused this change.'),
    );
  }
  if (code === 'P2028' || code === 'P2024') {
    return new AppError(
      'unavailable',
      say('The database is very busy. Nothing was saved; try again in a moment.'),
      {
        cause: error,
      },
    );
  }
  return error;
}

/** Our own triggers raise 'FURCULA: sentence'. */
function readableTail(message: string): string {
  const at = message.lastIndexOf('FURCULA: ');
  return at === -1
    ? say('The database refused this change.')
    : (message.slice(at + 9).split('\n')[0] ?? '').trim();
}
