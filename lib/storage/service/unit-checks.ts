import 'server-only';
import { conflict, notValid } from '@/lib/platform/errors';
import type { Work } from '@/lib/platform/tx';
import { say } from '@/lib/platform/words/say';
import { preservationOf } from '../keeping';
import { countPositions, formatPosition, parsePosition } from '../positions';
import { rateVials } from '../rating';
import { findPlacedPositions } from '../repo/units';
import { findContents } from '../repo/vials';
import { checkPlacement, checkUnitMove, resolveConditions, type StorageTree } from '../rules';
import type { Grid } from '../schema';
import type { UnitRow } from '../wire';
import { findCodeOwner } from './codes';
import { type LoadedTree, loadUnits } from './tree';

export const refused = (path: string, message: string) => notValid(message, [{ path, message }]);

/** The index of a position as a person wrote it. @throws AppError not-valid */
export function readPosition(grid: Grid, text: string): number {
  const parsed = parsePosition(grid, text);
  if (!parsed.ok) throw refused('parentPosition', parsed.message);
  return parsed.value;
}

/** The index of a stored position, or nothing where the grid has no such position. */
export const positionOf = (grid: Grid, text: string | null): number[] => {
  const parsed = text === null ? null : parsePosition(grid, text);
  return parsed?.ok ? [parsed.value] : [];
};

export const namePosition = (grid: Grid | null, position: number | null): string | null =>
  grid === null || position === null ? null : formatPosition(grid, position);

/** @throws AppError conflict or not-valid with the rule's own sentence */
export function checkMove(
  tree: StorageTree,
  id: string,
  to: { parentId: string | null; position: number | null },
  contents: Parameters<typeof checkUnitMove>[3],
): void {
  const verdict = checkUnitMove(tree, id, to, contents);
  if (verdict.ok) return;
  if (verdict.reason === 'position-taken' || verdict.reason === 'full') throw conflict(verdict.message);
  throw refused(verdict.reason === 'no-such-position' ? 'parentPosition' : 'parentId', verdict.message);
}

/** Room for so many more in a unit without a grid, its materials counted too. */
export function checkRoom(parent: UnitRow | null, count: number): void {
  if (parent === null || parent.grid !== null || parent.capacity === null) return;
  if (parent.load + count > parent.capacity) {
    throw conflict(
      say('{name} is full: it takes {capacity} and holds {load}.', {
        name: parent.name,
        capacity: parent.capacity,
        load: parent.load,
      }),
    );
  }
}

/** @throws AppError conflict when what the unit holds would no longer fit or be kept rightly */
export async function checkChange(
  work: Work,
  loaded: LoadedTree,
  before: UnitRow,
  after: UnitRow,
  inside: readonly string[],
): Promise<void> {
  if (after.code !== before.code) {
    const owner = await findCodeOwner(work.db, work.actor, after.code);
    if (owner !== null)
      throw refused('code', say('The code {code} is already that of {owner}.', { code: after.code, owner }));
  }
  if (!after.active && before.load > 0) {
    throw conflict(say('{name} is not empty: move what is in it first.', { name: before.name }));
  }
  if (after.grid !== null && after.capacity !== null) {
    throw refused('capacity', say('A unit with a grid takes its capacity from the grid.'));
  }
  await checkGrid(work, loaded, before, after.grid);
  const room = after.grid === null ? after.capacity : countPositions(after.grid);
  if (room !== null && room < before.load)
    throw conflict(say('{name} holds {load} things already.', { name: before.name, load: before.load }));
  await checkContents(work, loaded.tree, before, after, inside);
}

/** A grid changes when the unit is empty, or when everything in it keeps a position of the same name. */
async function checkGrid(
  work: Work,
  { wire }: LoadedTree,
  before: UnitRow,
  grid: Grid | null,
): Promise<void> {
  if (before.load === 0 || JSON.stringify(before.grid) === JSON.stringify(grid)) return;
  const placed = await findPlacedPositions(work.db, [before.id]);
  const standing = [...wire.values()].filter((unit) => unit.parentId === before.id);
  const names = [...placed.map((row) => row.position), ...standing.map((unit) => unit.parentPosition)];
  const keeps = (name: string | null) =>
    grid !== null && positionOf(grid, name).some((at) => formatPosition(grid, at) === name);
  if (names.length < before.load || !names.every(keeps)) {
    throw conflict(
      say('{name} holds things whose positions the new grid does not have. Move them first.', {
        name: before.name,
      }),
    );
  }
}

async function checkContents(
  work: Work,
  tree: StorageTree,
  before: UnitRow,
  after: UnitRow,
  inside: readonly string[],
): Promise<void> {
  const unit = tree.get(before.id);
  const isSame =
    after.targetTempC === before.targetTempC &&
    JSON.stringify(after.allowedPreservations) === JSON.stringify(before.allowedPreservations);
  if (unit === undefined || isSame) return;
  const settings = {
    targetTemperatureC: after.targetTempC,
    allowedPreservations: after.allowedPreservations.length === 0 ? null : after.allowedPreservations,
  };
  const changed: StorageTree = new Map([...tree, [unit.id, { ...unit, ...settings }]]);
  for (const { unitId, material } of await findContents(work.db, inside)) {
    const kept = preservationOf({ ...material, preservation: material.vial?.preservation ?? null });
    const verdict = kept === null ? null : checkPlacement(kept, resolveConditions(changed, unitId));
    if (verdict?.ok === false)
      throw conflict(say('{message} Some of it lies here: move it first.', { message: verdict.message }));
  }
}

/** Vials in these units get the class that follows from the temperature around them now. */
export async function rateInside(work: Work, unitIds: readonly string[]): Promise<void> {
  const tree = await loadUnits(work.db, work.actor.collectionId);
  const contents = await findContents(work.db, unitIds);
  const vials = contents.flatMap(({ unitId, material: { vial } }) => {
    const storedAtC = resolveConditions(tree, unitId).targetTemperatureC;
    return vial === null || vial.storedAtC === storedAtC ? [] : [{ ...vial, storedAtC }];
  });
  await rateVials(work, vials);
}
