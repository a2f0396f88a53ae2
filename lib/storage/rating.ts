import 'server-only';
import type { Work } from '@/lib/platform/tx';
import { classifyQuality, type QualityClass, type QualityFacts } from './quality';
import { updateRatings, type VialRow } from './repo/vials';
import type { PreservationKind } from './schema';

type Rated = Pick<VialRow, 'origin' | 'preservation' | 'storedAtC' | 'dnaYieldUg'>;

/** The published class of a vial as it is kept now. */
export const rateVial = (vial: Rated): QualityClass =>
  classifyQuality({
    origin: vial.origin as QualityFacts['origin'],
    preservation: { kind: vial.preservation as PreservationKind, temperatureC: vial.storedAtC },
    dnaYieldUg: vial.dnaYieldUg,
  });

/** Writes the temperature at which vials lie now, and the class and reason that follow from it. */
export async function rateVials(
  work: Work,
  vials: readonly (Rated & { materialId: string })[],
): Promise<void> {
  const groups = new Map<string, { ids: string[]; vial: Rated }>();
  for (const vial of vials) {
    const key = JSON.stringify([vial.origin, vial.preservation, vial.storedAtC, vial.dnaYieldUg]);
    const group = groups.get(key) ?? { ids: [], vial };
    group.ids.push(vial.materialId);
    groups.set(key, group);
  }
  for (const { ids, vial } of groups.values()) {
    const { stars, reason } = rateVial(vial);
    await updateRatings(work.db, ids, {
      storedAtC: vial.storedAtC,
      qualityClass: stars,
      qualityReason: reason,
    });
  }
}
