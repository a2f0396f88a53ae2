import 'server-only';
import { say } from '@/lib/platform/words/say';
import type { CommandContext } from './actor';
import type { BulkAnswer } from './bulk-wire';
import { AppError } from './errors';
import { log } from './log';

/**
 * Gives one command to each row on its own: in one row everything happens or nothing, and what one row refuses does
 * not hold up the others. The answer says of each row whether it was done.
 */
export async function forEachRow(
  { actor, requestId }: CommandContext,
  ids: readonly string[],
  command: (context: CommandContext, id: string) => Promise<unknown>,
): Promise<BulkAnswer> {
  const rows: BulkAnswer['rows'] = [];
  for (const id of new Set(ids)) {
    try {
      // The key of a repeated delivery belongs to one transaction; here each row has its own.
      await command({ actor, requestId }, id);
      rows.push({ id, problem: null });
    } catch (error) {
      rows.push({ id, problem: wordsOf(error, requestId) });
    }
  }
  return { rows };
}

function wordsOf(error: unknown, requestId: string | undefined): string {
  if (error instanceof AppError)
    return [error.message, ...error.fields.map(({ message }) => message)].join(' ');
  log().error({ err: error, requestId }, 'a row of a bulk act failed');
  return say('Something went wrong here; nothing was changed in it.');
}
