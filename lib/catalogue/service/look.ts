import 'server-only';
import { notePlaceLook } from '@/lib/audit/public';
import type { Actor } from '@/lib/platform/actor';
import { placeDetail } from '../policy';

type SeenBird = { id: string; salvageId: string; number: string; taxon: { sensitive: boolean } | null };

/** Notes in the history that this reader is about to see the exact place of a sensitive bird. */
export async function noteLook(actor: Actor, bird: SeenBird): Promise<void> {
  if (bird.taxon?.sensitive !== true || placeDetail(actor, true) !== 'exact') return;
  await notePlaceLook(actor, { salvageId: bird.salvageId, birdId: bird.id, number: bird.number });
}
