import 'server-only';
import { findSavedStyle } from '@/lib/bench/repo/styles';
import { knownStyleId } from '@/lib/bench/schema';
import { PREPARATION_STYLE_DATA } from '@/lib/bench/style-data';
import { type PreparationStyle, preparationStyle } from '@/lib/bench/styles';
import type { Tx } from '@/lib/platform/db';

/** A style as this collection does it: in one version, or the newest. The shipped data is version 1. */
export async function loadStyle(
  tx: Tx,
  collectionId: string,
  styleId: string,
  version?: number,
): Promise<PreparationStyle> {
  const id = knownStyleId.parse(styleId);
  const saved = version === 1 ? null : await findSavedStyle(tx, collectionId, id, version);
  const parsed = saved === null ? null : preparationStyle.safeParse(saved.data);
  return parsed?.success ? parsed.data : PREPARATION_STYLE_DATA[id];
}
