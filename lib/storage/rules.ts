import { phrases, say } from '@/lib/platform/words/say';
import { countPositions, formatPosition } from './positions';
import type { MaterialPlace, PreservationKind, StorageUnit, StorageUnitKind, Verdict } from './schema';

export type StorageTree = ReadonlyMap<string, StorageUnit>;

/** Units by id. Throws when two share an id or a code: a code must lead to one place. */
export function buildStorageTree(units: readonly StorageUnit[]): StorageTree {
  const tree = new Map<string, StorageUnit>();
  const codes = new Set<string>();
  for (const unit of units) {
    if (tree.has(unit.id)) throw new Error(`Storage unit ${unit.id} is listed twice.`);
    if (codes.has(unit.code)) throw new Error(`The code ${unit.code} is on two storage units.`);
    tree.set(unit.id, unit);
    codes.add(unit.code);
  }
  return tree;
}

/** The unit and everything around it, outermost first. Throws on an unknown unit or a circle. */
export function listPath(tree: StorageTree, unitId: string): StorageUnit[] {
  const path: StorageUnit[] = [];
  for (let id: string | null = unitId; id !== null; ) {
    const unit = tree.get(id);
    if (!unit) throw new Error(`There is no storage unit ${id}.`);
    if (path.includes(unit)) throw new Error(`Storage unit ${unit.name} lies inside itself.`);
    path.unshift(unit);
    id = unit.parentId;
  }
  return path;
}

/** "North site › Room 2 › Freezer B › Rack 3 › Box 12 › A4" */
export function formatPathName(tree: StorageTree, unitId: string, position: number | null = null): string {
  const path = listPath(tree, unitId);
  const names = path.map((unit) => unit.name);
  const grid = path.at(-1)?.grid;
  if (grid && position !== null) names.push(formatPosition(grid, position));
  return names.join(' › ');
}

/** What holds at a place. */
export type Conditions = {
  targetTemperatureC: number | null;
  allowedPreservations: readonly PreservationKind[] | null;
};

/** What holds at a unit once the units around it have been asked, and which freezer and room it stands in. */
export function resolveConditions(
  tree: StorageTree,
  unitId: string,
): Conditions & { freezerId: string | null; roomId: string | null } {
  const inward = listPath(tree, unitId).reverse();
  return {
    targetTemperatureC: inward.find((unit) => unit.targetTemperatureC !== null)?.targetTemperatureC ?? null,
    allowedPreservations:
      inward.find((unit) => unit.allowedPreservations !== null)?.allowedPreservations ?? null,
    freezerId: inward.find((unit) => unit.kind === 'freezer' || unit.kind === 'cabinet')?.id ?? null,
    roomId: inward.find((unit) => unit.kind === 'room')?.id ?? null,
  };
}

export type PlacementProblem = 'not-allowed-here' | 'too-cold' | 'too-warm' | 'temperature-unknown';

/** Warmest temperature, in °C, at which each kind still counts as kept. Common practice, no source. */
const warmestC: Record<PreservationKind, number> = {
  frozen: -15,
  'liquid-nitrogen': -130,
  ethanol: 30,
  'dmso-salt': 30,
  'rna-stabiliser': 8,
  dry: 30,
};

/** Liquids in screw-cap tubes stay out of the cryogenic range: ethanol sets at −114 °C (from memory), tubes crack. */
const coldestLiquidC = -100;
const liquids: readonly PreservationKind[] = ['ethanol', 'dmso-salt'];

export const preservationWords: Record<PreservationKind, string> = phrases({
  frozen: 'frozen',
  'liquid-nitrogen': 'in liquid nitrogen',
  ethanol: 'in ethanol',
  'dmso-salt': 'in DMSO and salt',
  'rna-stabiliser': 'in RNA stabiliser',
  dry: 'dry',
});

/** Whether material kept so may lie where these conditions hold. */
export function checkPlacement(
  preservation: PreservationKind,
  conditions: Conditions,
): Verdict<null, PlacementProblem> {
  const { targetTemperatureC, allowedPreservations } = conditions;
  const words = preservationWords[preservation];
  const refuse = (reason: PlacementProblem, message: string) => ({ ok: false as const, reason, message });
  if (allowedPreservations && !allowedPreservations.includes(preservation)) {
    const allowed = allowedPreservations.map((kind) => preservationWords[kind]).join(', ');
    return refuse(
      'not-allowed-here',
      say('Material kept {words} does not go here: this place takes {allowed}.', { words, allowed }),
    );
  }
  if (targetTemperatureC === null) {
    return preservation === 'frozen' || preservation === 'liquid-nitrogen'
      ? refuse(
          'temperature-unknown',
          say('Material kept {words} needs a place with a known temperature.', { words }),
        )
      : { ok: true, value: null };
  }
  if (liquids.includes(preservation) && targetTemperatureC < coldestLiquidC) {
    return refuse(
      'too-cold',
      say(
        'Material kept {words} does not go to {targetTemperatureC} °C: the liquid freezes solid and the tube may crack.',
        { words, targetTemperatureC },
      ),
    );
  }
  if (targetTemperatureC > warmestC[preservation]) {
    return refuse(
      'too-warm',
      say(
        'Material kept {words} needs {warmestc} °C or colder; this place is set to {targetTemperatureC} °C.',
        { words, warmestc: warmestC[preservation], targetTemperatureC },
      ),
    );
  }
  return { ok: true, value: null };
}

/** What may stand directly in what; null is the top of the tree. */
export const allowedParents: Record<StorageUnitKind, readonly (StorageUnitKind | null)[]> = {
  site: [null],
  room: ['site', null],
  freezer: ['room'],
  cabinet: ['room'],
  rack: ['freezer', 'cabinet', 'shelf', 'drawer'],
  drawer: ['freezer', 'cabinet', 'rack'],
  shelf: ['freezer', 'cabinet', 'rack', 'room'],
  box: ['freezer', 'cabinet', 'rack', 'drawer', 'shelf'],
};

export type UnitMoveProblem =
  | 'unknown-unit'
  | 'into-itself'
  | 'wrong-kind'
  | 'no-such-position'
  | 'position-taken'
  | 'full'
  | PlacementProblem;

/**
 * Whether a unit may move, with all it holds, into another.
 * @param contents how each thing inside it is preserved; one that does not belong there refuses the move
 */
export function checkUnitMove(
  tree: StorageTree,
  unitId: string,
  to: { parentId: string | null; position: number | null },
  contents: Iterable<PreservationKind>,
): Verdict<null, UnitMoveProblem> {
  const refuse = (reason: UnitMoveProblem, message: string) => ({ ok: false as const, reason, message });
  const unit = tree.get(unitId);
  const parent = to.parentId === null ? null : tree.get(to.parentId);
  if (!unit || parent === undefined) return refuse('unknown-unit', say('That storage unit does not exist.'));
  if (!allowedParents[unit.kind].includes(parent?.kind ?? null)) {
    const where = parent ? say('in a {kind}', { kind: parent.kind }) : say('at the top');
    return refuse('wrong-kind', say('A {kind} does not stand {where}.', { kind: unit.kind, where }));
  }
  if (!parent) return { ok: true, value: null };
  if (listPath(tree, parent.id).some((around) => around.id === unitId)) {
    return refuse('into-itself', say('{name} cannot move into itself.', { name: unit.name }));
  }
  const room = checkRoomForUnit(tree, unit, parent, to.position);
  if (!room.ok) return room;
  // The unit's own settings travel with it; only what it takes from around changes.
  const around = resolveConditions(tree, parent.id);
  const conditions = {
    targetTemperatureC: unit.targetTemperatureC ?? around.targetTemperatureC,
    allowedPreservations: unit.allowedPreservations ?? around.allowedPreservations,
  };
  for (const preservation of new Set(contents)) {
    // Both hold: what the box takes and what the freezer takes.
    for (const where of [conditions, around]) {
      const placement = checkPlacement(preservation, where);
      if (!placement.ok) return placement;
    }
  }
  return { ok: true, value: null };
}

function checkRoomForUnit(
  tree: StorageTree,
  unit: StorageUnit,
  parent: StorageUnit,
  position: number | null,
): Verdict<null, UnitMoveProblem> {
  const siblings = [...tree.values()].filter((other) => other.parentId === parent.id && other.id !== unit.id);
  if (parent.grid) {
    if (position === null || position < 0 || position >= countPositions(parent.grid)) {
      return {
        ok: false,
        reason: 'no-such-position',
        message: say('Say which position of {name}.', { name: parent.name }),
      };
    }
    const holder = siblings.find((other) => other.parentPosition === position);
    if (holder) {
      const name = formatPosition(parent.grid, position);
      return {
        ok: false,
        reason: 'position-taken',
        message: say('{name} {name2} already holds {name3}.', {
          name: parent.name,
          name2: name,
          name3: holder.name,
        }),
      };
    }
    return { ok: true, value: null };
  }
  if (position !== null) {
    return {
      ok: false,
      reason: 'no-such-position',
      message: say('{name} has no positions.', { name: parent.name }),
    };
  }
  if (parent.capacity !== null && siblings.length >= parent.capacity) {
    return {
      ok: false,
      reason: 'full',
      message: say('{name} is full: it takes {capacity}.', { name: parent.name, capacity: parent.capacity }),
    };
  }
  return { ok: true, value: null };
}

/** Where a place is, in words; the tree is needed for shelf names only. */
export function formatPlace(tree: StorageTree, place: MaterialPlace): string {
  switch (place.where) {
    case 'position':
      return formatPathName(tree, place.unitId, place.position);
    case 'on-loan':
      return say('out on loan {loanId}', { loanId: place.loanId });
    case 'in-hand':
      return say('in somebody’s hands');
    case 'gone':
      return say('no longer held');
  }
}
