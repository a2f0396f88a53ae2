import { ELEMENT_IDS, elementOf, sidesOf } from '../elements';
import type { BoneEntry } from '../schema';
import { GENERAL_PROFILE, type SkeletonProfile } from '../taxa';
import { type Place, REGIONS, type Region, SIDES, type Side } from '../words';

/** Elements counted, a portion as one half. `expected` is what the taxon should have. */
export interface Share {
  expected: number;
  present: number;
  /** Of the present ones, those not broken. */
  intact: number;
  /** present / expected, 0 to 1; 0 where nothing is expected. */
  fraction: number;
}

export interface Completeness {
  total: Share;
  bySide: Record<Side, Share>;
  byRegion: Record<Region, Share>;
  byRegionAndSide: Record<Region, Record<Side, Share>>;
}

const emptyShare = (): Share => ({ expected: 0, present: 0, intact: 0, fraction: 0 });
const table = <K extends string, V>(keys: readonly K[], make: () => V) =>
  Object.fromEntries(keys.map((key) => [key, make()])) as Record<K, V>;

function addTo(share: Share, present: number, intact: number): void {
  share.expected += 1;
  share.present += present;
  share.intact += intact;
  share.fraction = share.present / share.expected;
}

/** The part of an element (0, ½ or 1) that is in the places asked for; never more than one whole. */
function partIn(
  entries: readonly BoneEntry[],
  places: readonly Place[],
): { present: number; intact: number } {
  const halves = (['proximal', 'distal'] as const).map((half) =>
    entries.filter(
      (entry) =>
        (entry.portion === 'whole' || entry.portion === half) &&
        entry.state !== 'missing' &&
        entry.place !== null &&
        places.includes(entry.place),
    ),
  );
  const share = (test: (entry: BoneEntry) => boolean) => halves.filter((half) => half.some(test)).length / 2;
  return { present: share(() => true), intact: share((entry) => entry.state === 'whole') };
}

/** How much of the skeleton lies in the places asked for, over all, by region and by side. Variable elements count only if found. */
export function measureCompleteness(
  entries: readonly BoneEntry[],
  places: readonly Place[] = ['skeleton'],
  profile: SkeletonProfile = GENERAL_PROFILE,
): Completeness {
  const result: Completeness = {
    total: emptyShare(),
    bySide: table(SIDES, emptyShare),
    byRegion: table(REGIONS, emptyShare),
    byRegionAndSide: table(REGIONS, () => table(SIDES, emptyShare)),
  };
  for (const element of ELEMENT_IDS) {
    for (const side of sidesOf(element)) {
      const own = entries.filter((entry) => entry.element === element && entry.side === side);
      const { present, intact } = partIn(own, places);
      if (profile[element].presence !== 'expected' && present === 0) continue;
      const { region } = elementOf(element);
      const shares = [
        result.total,
        result.bySide[side],
        result.byRegion[region],
        result.byRegionAndSide[region][side],
      ];
      for (const share of shares) addTo(share, present, intact);
    }
  }
  return result;
}
