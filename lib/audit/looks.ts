import 'server-only';
import type { Actor } from '@/lib/platform/actor';
import { now } from '@/lib/platform/clock';
import { withTx } from '@/lib/platform/tx';
import { auditEvents } from './events';
import { hasLooked } from './repo';

/**
 * Writes into the history that somebody was shown the exact place of a sensitive bird: before it is shown, and once a
 * day (UTC) for each person and find, on whatever page. What is written does not hold the place.
 */
export async function notePlaceLook(
  actor: Actor,
  find: { salvageId: string; birdId: string | null; number: string },
): Promise<void> {
  const { salvageId, birdId, number } = find;
  const { personId } = actor;
  if (personId === null) return;
  const today = new Date(now());
  today.setUTCHours(0, 0, 0, 0);
  const look = { kind: 'audit.place-looked-at', actorId: personId, subjectId: salvageId, since: today };
  if (await hasLooked(look)) return;
  await withTx({ actor }, async (work) => {
    work.audit(
      auditEvents.make(
        'audit.place-looked-at',
        { subjectType: 'salvage', subjectId: salvageId, birdId },
        { number },
      ),
    );
  });
}
