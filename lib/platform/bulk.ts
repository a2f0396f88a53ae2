import 'server-only';
import { createHash } from 'node:crypto';
import { say } from '@/lib/platform/words/say';
import { type CommandContext, unkept } from './actor';
import type { BulkAnswer } from './bulk-wire';
import { db } from './db';
import { AppError, conflict } from './errors';
import { log } from './log';

/**
 * Gives one command to each row on its own: in one row everything happens or nothing, and what one row refuses does
 * not hold up the others. The answer says of each row whether it was done. Each row keeps an idempotency key of its
 * own: a repeated delivery does what is left, also after one that was cut short, and answers the rest as done.
 */
export async function forEachRow(
  context: CommandContext,
  ids: readonly string[],
  command: (context: CommandContext, id: string) => Promise<unknown>,
): Promise<BulkAnswer> {
  const rows = [...new Set(ids)].map((id) => ({ id, own: contextOfRow(context, id) }));
  const done = await findDone(rows.map(({ own }) => own));
  const answers: BulkAnswer['rows'] = [];
  for (const { id, own } of rows) {
    try {
      if (own.idempotency === undefined || !done.has(own.idempotency.key)) await command(own, id);
      answers.push({ id, problem: null });
    } catch (error) {
      // The same delivery may have done this row elsewhere meanwhile.
      const isDone = error instanceof AppError && (await findDone([own])).size > 0;
      answers.push({ id, problem: isDone ? null : wordsOf(error, context.requestId) });
    }
  }
  return { rows: answers };
}

/** Only that the row was done is kept: the answer says no more of it. */
function contextOfRow(context: CommandContext, id: string): CommandContext {
  const { idempotency } = context;
  if (idempotency === undefined) return context;
  const key = `row:${createHash('sha256').update(`${idempotency.key} ${id}`).digest('hex')}`;
  return unkept({ ...context, idempotency: { ...idempotency, key } });
}

/** The keys of rows that were done before. @throws AppError conflict where that was by another request. */
async function findDone(contexts: readonly CommandContext[]): Promise<Set<string>> {
  const [first] = contexts;
  if (first?.idempotency === undefined || first.actor.personId === null) return new Set();
  const { route, bodyDigest } = first.idempotency;
  const keys = contexts.flatMap(({ idempotency }) => idempotency?.key ?? []);
  const kept = await db().idempotencyKey.findMany({
    where: { personId: first.actor.personId, key: { in: keys } },
  });
  if (kept.some((one) => one.route !== route || one.bodyDigest !== bodyDigest))
    throw conflict(say('This Idempotency-Key was used for a different request.'));
  return new Set(kept.map(({ key }) => key));
}

function wordsOf(error: unknown, requestId: string | undefined): string {
  if (error instanceof AppError)
    return [error.message, ...error.fields.map(({ message }) => message)].join(' ');
  log().error({ err: error, requestId }, 'a row of a bulk act failed');
  return say('Something went wrong here; nothing was changed in it.');
}
