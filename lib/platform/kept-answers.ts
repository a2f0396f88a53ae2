import 'server-only';
import { now } from './clock';
import { db } from './db';

/** A delivery that comes again after this long is taken for a new one. */
const KEPT_DAYS = 30;

/** The answers to commands with an Idempotency-Key are kept for those who ask again, and then forgotten: no record. */
export async function forgetOldAnswers(): Promise<void> {
  const before = new Date(now().getTime() - KEPT_DAYS * 86_400_000);
  await db().idempotencyKey.deleteMany({ where: { createdAt: { lt: before } } });
}
