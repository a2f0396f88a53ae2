import 'server-only';
import type { Tx } from '@/lib/platform/db';

/** The collection's settings document. */
export async function findSettings(tx: Tx, collectionId: string): Promise<unknown> {
  return (await tx.collection.findUniqueOrThrow({ where: { id: collectionId } })).settings;
}
