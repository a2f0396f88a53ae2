import { say } from '@/lib/platform/words/say';
import { checkPlacement } from './rules';
import type { PreservationKind } from './schema';

/** A vial in the failing freezer, with what decides its turn. */
export type VialAtRisk = {
  materialId: string;
  preservation: PreservationKind;
  /** Published quality class, 4 best; null: not classed. */
  qualityStars: 1 | 2 | 3 | 4 | null;
  /** No vial of the same bird lies in another freezer. */
  isOnlyOne: boolean;
  isPromised: boolean;
  thawCount: number;
  /** Freezers that hold other vials of the same bird. */
  otherFreezerIds: readonly string[];
};

export type BoxAtRisk = { boxId: string; pathName: string; vials: readonly VialAtRisk[] };

/** Free places for whole boxes in another freezer. */
export type Refuge = {
  unitId: string;
  pathName: string;
  freezerId: string;
  freeBoxPlaces: number;
  targetTemperatureC: number | null;
  allowedPreservations: readonly PreservationKind[] | null;
};

export type EvacuationStep = {
  rank: number;
  boxId: string;
  pathName: string;
  score: number;
  reasons: string[];
  /** null: no suitable place is free; dry ice, or another house. */
  refuge: { unitId: string; pathName: string } | null;
  /** Why there is none, or what is less than ideal about it. */
  remark: string | null;
};

/** How much each reason weighs for one vial. Ours; common practice, no source. */
const weights = { onlyOne: 4, promised: 2, neverThawed: 1, star: 1 } as const;

/** How much a vial would lose by warming: 0 for what is not kept by cold. */
function scoreVial(vial: VialAtRisk): number {
  if (vial.preservation !== 'frozen' && vial.preservation !== 'liquid-nitrogen') return 0;
  return (
    weights.star * (vial.qualityStars ?? 1) +
    (vial.isOnlyOne ? weights.onlyOne : 0) +
    (vial.isPromised ? weights.promised : 0) +
    (vial.thawCount === 0 ? weights.neverThawed : 0)
  );
}

function explainBox(box: BoxAtRisk): string[] {
  const frozen = box.vials.filter((vial) => scoreVial(vial) > 0);
  const count = (test: (vial: VialAtRisk) => boolean) => frozen.filter(test).length;
  const onlyOnes = count((vial) => vial.isOnlyOne);
  const promised = count((vial) => vial.isPromised);
  const best = count((vial) => (vial.qualityStars ?? 0) >= 3);
  const reasons = [
    onlyOnes > 0 ? say('{onlyOnes} without a duplicate in another freezer', { onlyOnes }) : null,
    promised > 0 ? say('{promised} promised to somebody', { promised }) : null,
    best > 0 ? say('{best} of class 3 or 4', { best }) : null,
    frozen.length > 0
      ? say('{length} kept by cold', { length: frozen.length })
      : say('nothing in it is kept by cold'),
  ];
  return reasons.filter((reason) => reason !== null);
}

/**
 * The order in which boxes leave a failing freezer, each with a free and suitable place elsewhere. Boxes go
 * whole, since hands are few and minutes count. A freezer that already holds the duplicates comes last.
 */
export function planEvacuation(boxes: readonly BoxAtRisk[], refuges: readonly Refuge[]): EvacuationStep[] {
  const free = new Map(refuges.map((refuge) => [refuge.unitId, refuge.freeBoxPlaces]));
  return boxes
    .map((box) => ({ box, score: box.vials.reduce((sum, vial) => sum + scoreVial(vial), 0) }))
    .sort((a, b) => b.score - a.score || a.box.pathName.localeCompare(b.box.pathName))
    .map(({ box, score }, index) => {
      const choice = chooseRefuge(box, refuges, free);
      if (choice.refuge) free.set(choice.refuge.unitId, (free.get(choice.refuge.unitId) ?? 0) - 1);
      return {
        rank: index + 1,
        boxId: box.boxId,
        pathName: box.pathName,
        score,
        reasons: explainBox(box),
        refuge: choice.refuge && { unitId: choice.refuge.unitId, pathName: choice.refuge.pathName },
        remark: choice.remark,
      };
    });
}

function chooseRefuge(box: BoxAtRisk, refuges: readonly Refuge[], free: ReadonlyMap<string, number>) {
  const kinds = [...new Set(box.vials.map((vial) => vial.preservation))];
  const suitable = refuges.filter((refuge) => kinds.every((kind) => checkPlacement(kind, refuge).ok));
  if (suitable.length === 0)
    return { refuge: null, remark: say('No other place suits what is in this box.') };
  const open = suitable.filter((refuge) => (free.get(refuge.unitId) ?? 0) > 0);
  if (open.length === 0) return { refuge: null, remark: say('Every suitable place is full: use dry ice.') };
  const shared = (refuge: Refuge) =>
    box.vials.filter((vial) => vial.otherFreezerIds.includes(refuge.freezerId)).length;
  const [best] = [...open].sort(
    (a, b) =>
      shared(a) - shared(b) ||
      (a.targetTemperatureC ?? 0) - (b.targetTemperatureC ?? 0) ||
      a.pathName.localeCompare(b.pathName),
  );
  if (!best) return { refuge: null, remark: null };
  const together = shared(best);
  const remark =
    together === 0
      ? null
      : say('{together} of its vials will lie in the same freezer as their duplicates.', { together });
  return { refuge: best, remark };
}
