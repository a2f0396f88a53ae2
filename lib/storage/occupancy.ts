import { say } from '@/lib/platform/words/say';
import { countPositions, findFreePositions, formatPosition } from './positions';
import { checkPlacement, type PlacementProblem, resolveConditions, type StorageTree } from './rules';
import type { MaterialPlace, PreservationKind, Verdict } from './schema';

/** Who is where: one place a material, one material a position. Never changed in place. */
export type Occupancy = {
  readonly placeOf: ReadonlyMap<string, MaterialPlace>;
  /** unit id + position → material id */
  readonly holderAt: ReadonlyMap<string, string>;
  /** unit id → how many materials lie directly in it */
  readonly countIn: ReadonlyMap<string, number>;
};

export const emptyOccupancy: Occupancy = { placeOf: new Map(), holderAt: new Map(), countIn: new Map() };

export type MaterialMoveProblem =
  | 'unknown-unit'
  | 'unknown-material'
  | 'no-such-position'
  | 'position-taken'
  | 'full'
  | 'not-on-shelf'
  | 'gone'
  | PlacementProblem;

export const positionKey = (unitId: string, position: number) => `${unitId}#${position}`;

/**
 * Puts a material (new, in hand, or on another shelf) into a place of the tree.
 * Refused without any change: unknown or full unit, position outside the grid or taken, the wrong freezer,
 * material out on loan (it must come back first) or no longer held.
 * @param material how it is preserved; null where no place is wrong for it
 */
export function placeMaterial(
  tree: StorageTree,
  occupancy: Occupancy,
  material: { id: string; preservation: PreservationKind | null },
  to: { unitId: string; position: number | null },
): Verdict<Occupancy, MaterialMoveProblem> {
  const refuse = (reason: MaterialMoveProblem, message: string) => ({ ok: false as const, reason, message });
  const unit = tree.get(to.unitId);
  if (!unit) return refuse('unknown-unit', say('That storage unit does not exist.'));
  const from = occupancy.placeOf.get(material.id);
  if (from?.where === 'gone') return refuse('gone', say('This material is no longer held.'));
  if (from?.where === 'on-loan')
    return refuse('not-on-shelf', say('This material is out on loan: return it first.'));
  if (material.preservation !== null) {
    const placement = checkPlacement(material.preservation, resolveConditions(tree, unit.id));
    if (!placement.ok) return placement;
  }
  if (unit.grid) {
    if (to.position === null || !Number.isInteger(to.position)) {
      return refuse('no-such-position', say('Say which position of {name}.', { name: unit.name }));
    }
    if (to.position < 0 || to.position >= countPositions(unit.grid)) {
      return refuse(
        'no-such-position',
        say('{name} has only {positions} positions.', {
          name: unit.name,
          positions: countPositions(unit.grid),
        }),
      );
    }
    const holder = occupancy.holderAt.get(positionKey(unit.id, to.position));
    if (holder !== undefined && holder !== material.id) {
      const name = formatPosition(unit.grid, to.position);
      const full = (occupancy.countIn.get(unit.id) ?? 0) >= countPositions(unit.grid);
      return full
        ? refuse(
            'full',
            say('{name} is full: all {positions} positions are taken.', {
              name: unit.name,
              positions: countPositions(unit.grid),
            }),
          )
        : refuse(
            'position-taken',
            say('{name} {name2} already holds another material.', { name: unit.name, name2: name }),
          );
    }
  } else {
    if (to.position !== null)
      return refuse('no-such-position', say('{name} has no positions.', { name: unit.name }));
    const inside = occupancy.countIn.get(unit.id) ?? 0;
    const stays = from?.where === 'position' && from.unitId === unit.id;
    if (unit.capacity !== null && !stays && inside >= unit.capacity) {
      return refuse(
        'full',
        say('{name} is full: it takes {capacity}.', { name: unit.name, capacity: unit.capacity }),
      );
    }
  }
  return { ok: true, value: setPlace(occupancy, material.id, { where: 'position', ...to }) };
}

/** Takes a material off the shelf: into somebody's hands, out on loan, or out of the collection for good. */
export function takeMaterial(
  occupancy: Occupancy,
  materialId: string,
  to: Exclude<MaterialPlace, { where: 'position' }>,
): Verdict<Occupancy, MaterialMoveProblem> {
  const from = occupancy.placeOf.get(materialId);
  if (!from)
    return { ok: false, reason: 'unknown-material', message: say('This material has no place yet.') };
  if (from.where === 'gone')
    return { ok: false, reason: 'gone', message: say('This material is no longer held.') };
  if (from.where === 'on-loan' && to.where === 'on-loan') {
    return {
      ok: false,
      reason: 'not-on-shelf',
      message: say('This material is already out on loan {loanId}.', { loanId: from.loanId }),
    };
  }
  return { ok: true, value: setPlace(occupancy, materialId, to) };
}

function setPlace(occupancy: Occupancy, materialId: string, place: MaterialPlace): Occupancy {
  const placeOf = new Map(occupancy.placeOf);
  const holderAt = new Map(occupancy.holderAt);
  const countIn = new Map(occupancy.countIn);
  const from = placeOf.get(materialId);
  if (from?.where === 'position') {
    if (from.position !== null) holderAt.delete(positionKey(from.unitId, from.position));
    countIn.set(from.unitId, (countIn.get(from.unitId) ?? 0) - 1);
  }
  if (place.where === 'position') {
    if (place.position !== null) holderAt.set(positionKey(place.unitId, place.position), materialId);
    countIn.set(place.unitId, (countIn.get(place.unitId) ?? 0) + 1);
  }
  placeOf.set(materialId, place);
  return { placeOf, holderAt, countIn };
}

/** Free positions of a unit with a grid, in the order of their names. */
export function listFreePositions(
  tree: StorageTree,
  occupancy: Occupancy,
  unitId: string,
  count: number,
): number[] {
  const grid = tree.get(unitId)?.grid;
  if (!grid) return [];
  const taken = new Set<number>();
  for (let position = 0; position < countPositions(grid); position += 1) {
    if (occupancy.holderAt.has(positionKey(unitId, position))) taken.add(position);
  }
  return findFreePositions(grid, taken, count);
}
