import 'server-only';
import { type Actor, authorise } from '@/lib/platform/actor';
import { db } from '@/lib/platform/db';
import { notFound } from '@/lib/platform/errors';
import { say } from '@/lib/platform/words/say';
import {
  type BoxAtRisk,
  loadTree,
  planEvacuation,
  type Refuge,
  resolveConditions,
  type VialAtRisk,
} from '@/lib/storage/public';
import type { PreservationKind } from '@/lib/storage/schema';
import { findPlacedVials } from '../repo/placed';
import type { EvacuationList } from '../wire';

/**
 * In which order boxes leave a failing freezer, and where each finds a free and suitable place in another one. A
 * proposal: boxes are moved, whole, by the people who carry them.
 */
export async function planFreezerEvacuation(actor: Actor, unitId: string): Promise<EvacuationList> {
  authorise(actor, 'tissues.see');
  const { tree, wire } = await loadTree(db(), actor.collectionId);
  const unit = wire.get(unitId);
  if (unit === undefined) throw notFound(say('This place in the store'));
  const failing = resolveConditions(tree, unitId).freezerId ?? unitId;
  const isHere = (id: string) => resolveConditions(tree, id).freezerId === failing;
  const placed = await findPlacedVials(
    db(),
    actor.collectionId,
    failing === unitId ? [...wire.keys()].filter(isHere) : [unitId],
  );

  const boxes = new Map<string, BoxAtRisk & { vials: VialAtRisk[] }>();
  for (const vial of placed) {
    const box = wire.get(vial.unitId);
    if (box === undefined) continue;
    const entry = boxes.get(box.id) ?? { boxId: box.id, pathName: box.path, vials: [] };
    const freezers = vial.otherUnitIds.flatMap((id) =>
      tree.has(id) ? (resolveConditions(tree, id).freezerId ?? []) : [],
    );
    const others = [...new Set(freezers)].filter((id) => id !== failing);
    entry.vials.push({
      materialId: vial.materialId,
      preservation: vial.preservation as PreservationKind,
      qualityStars: vial.qualityClass as VialAtRisk['qualityStars'],
      isOnlyOne: others.length === 0,
      isPromised: vial.isPromised,
      thawCount: vial.thawCount,
      otherFreezerIds: others,
    });
    boxes.set(box.id, entry);
  }

  const refuges = [...wire.values()].flatMap((place): Refuge[] => {
    const around = resolveConditions(tree, place.id);
    const holdsBoxes = place.kind === 'rack' || place.kind === 'drawer' || place.kind === 'shelf';
    if (!holdsBoxes || !place.active || around.freezerId === null || around.freezerId === failing) return [];
    const { targetTemperatureC, allowedPreservations, freezerId } = around;
    const freeBoxPlaces = place.places === null ? 0 : Math.max(0, place.places - place.load);
    return [
      {
        unitId: place.id,
        pathName: place.path,
        freezerId,
        freeBoxPlaces,
        targetTemperatureC,
        allowedPreservations,
      },
    ];
  });
  const steps = planEvacuation([...boxes.values()], refuges);
  return {
    unit: { id: unit.id, name: unit.name, path: unit.path },
    steps: steps.map((step) => ({ ...step, vials: boxes.get(step.boxId)?.vials.length ?? 0 })),
  };
}
