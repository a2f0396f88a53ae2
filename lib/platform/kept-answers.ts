import 'server-only';
import { setTimeout } from 'node:timers/promises';
import type { z } from 'zod';
import { say } from '@/lib/platform/words/say';
import type { CommandContext } from './actor';
import { now } from './clock';
import { db } from './db';
import { AppError, conflict } from './errors';
import type { Prisma } from './generated/prisma/client';
import { log } from './log';
import { ANSWERED, DONE, GIVEN_ONCE } from './tx';

/** A delivery that comes again after this long is taken for a new one. */
const KEPT_DAYS = 30;
/** How often and how long a repeated delivery looks for the whole answer of the one that was carried out. */
const LOOK_MS = 50;
const LOOKS = 100;

/**
 * Runs a command and gives its answer. Where the context has an idempotency key: a delivery that was carried out before
 * is answered as it was then, also one that came at the same moment, to this process or another.
 * @throws AppError conflict when the key was used for another request, or its answer is given only once or was lost.
 */
export async function answeredOnce<R extends z.ZodType>(
  context: CommandContext,
  response: R,
  command: () => Promise<z.input<R>>,
): Promise<z.output<R>> {
  const before = await keptAnswer(context, response);
  if (before !== null) return before.answer;
  let result: z.input<R>;
  try {
    result = await command();
  } catch (error) {
    // What refuses this delivery may be what the same delivery did elsewhere meanwhile.
    const meanwhile = error instanceof AppError ? await keptAnswer(context, response) : null;
    if (meanwhile !== null) return meanwhile.answer;
    throw error;
  }
  const answer = response.parse(result);
  await keepWholeAnswer(context, answer);
  return answer;
}

/** The kept answer to this delivery; null when it was not carried out yet. */
async function keptAnswer<R extends z.ZodType>(
  context: CommandContext,
  response: R,
): Promise<{ answer: z.output<R> } | null> {
  let kept = await findKept(context);
  if (kept === null || context.idempotency === undefined) return null;
  if (kept.route !== context.idempotency.route || kept.bodyDigest !== context.idempotency.bodyDigest)
    throw conflict(say('This Idempotency-Key was used for a different request.'));
  for (let looks = 0; kept?.status === DONE && looks < LOOKS; looks += 1) {
    await setTimeout(LOOK_MS);
    kept = await findKept(context);
  }
  if (kept?.status === GIVEN_ONCE)
    throw conflict(
      say('This was carried out already. Its answer holds a secret or personal data and is given only once.'),
    );
  const parsed = response.safeParse(kept?.body);
  // The process may have ended before the whole answer was kept.
  if (!parsed.success)
    throw conflict(say('This was carried out already, and its answer was lost. Reload to see what stands.'));
  return { answer: parsed.data };
}

const findKept = async ({ actor, idempotency }: CommandContext) =>
  idempotency === undefined || actor.personId === null
    ? null
    : db().idempotencyKey.findUnique({
        where: { personId_key: { personId: actor.personId, key: idempotency.key } },
      });

/** Keeps the answer as it is sent, in place of what its transaction knew of it. */
async function keepWholeAnswer({ actor, idempotency }: CommandContext, answer: unknown): Promise<void> {
  if (idempotency === undefined || actor.personId === null) return;
  try {
    await db().idempotencyKey.updateMany({
      where: { personId: actor.personId, key: idempotency.key, status: DONE },
      data: { status: ANSWERED, body: JSON.parse(JSON.stringify(answer ?? null)) as Prisma.InputJsonValue },
    });
  } catch (error) {
    // What was asked is done and can be answered; only a repeated delivery will hear less.
    log().warn({ err: error }, 'an answer could not be kept');
  }
}

/** The answers to commands with an Idempotency-Key are kept for those who ask again, and then forgotten: no record. */
export async function forgetOldAnswers(): Promise<void> {
  const before = new Date(now().getTime() - KEPT_DAYS * 86_400_000);
  await db().idempotencyKey.deleteMany({ where: { createdAt: { lt: before } } });
}
