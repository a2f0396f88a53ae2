import 'server-only';
import { type Actor, authorise } from '@/lib/platform/actor';
import { db } from '@/lib/platform/db';
import { conflict, notValid } from '@/lib/platform/errors';
import { findSpace, parseSpaceRequest } from '../find-space';
import { countPositions, findFreePositions, formatPosition } from '../positions';
import { findPlacedPositions } from '../repo/units';
import { formatPathName, resolveConditions } from '../rules';
import type { Grid, PreservationKind } from '../schema';
import type { SpaceAnswer } from '../wire';
import { loadTree } from './tree';
import { positionOf } from './unit-checks';

/**
 * Answers "40 vials, two boxes, different freezers" with boxes and their free positions. Only a proposal: nothing is
 * kept for anybody.
 */
export async function proposeSpace(
  actor: Actor,
  { text, preservation }: { text: string; preservation: PreservationKind },
): Promise<SpaceAnswer> {
  authorise(actor, 'storage.see');
  const request = parseSpaceRequest(text, preservation);
  if (!request.ok) throw notValid(request.message, [{ path: 'text', message: request.message }]);
  const { tree, wire } = await loadTree(db(), actor.collectionId);
  const open = [...wire.values()].filter(
    (unit) => unit.kind === 'box' && unit.active && unit.grid !== null && unit.load < (unit.places ?? 0),
  );
  const taken = new Map<string, (string | null)[]>();
  for (const { unitId, position } of await findPlacedPositions(
    db(),
    open.map((unit) => unit.id),
  )) {
    taken.set(unitId, [...(taken.get(unitId) ?? []), position]);
  }
  const boxes = open.map((unit) => ({
    id: unit.id,
    pathName: formatPathName(tree, unit.id),
    ...resolveConditions(tree, unit.id),
    freePositions: freeIn(unit.grid, taken.get(unit.id) ?? []),
  }));
  const proposal = findSpace(request.value, boxes);
  if (!proposal.ok) throw conflict(proposal.message);
  return {
    isEven: proposal.value.isEven,
    boxes: proposal.value.boxes.map((box) => {
      const grid = wire.get(box.boxId)?.grid ?? null;
      return { ...box, positions: grid === null ? [] : box.positions.map((at) => formatPosition(grid, at)) };
    }),
  };
}

function freeIn(grid: Grid | null, names: readonly (string | null)[]): number[] {
  if (grid === null) return [];
  return findFreePositions(
    grid,
    new Set(names.flatMap((name) => positionOf(grid, name))),
    countPositions(grid),
  );
}
