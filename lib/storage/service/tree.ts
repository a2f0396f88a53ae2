import 'server-only';
import { type Actor, authorise } from '@/lib/platform/actor';
import { db, type Tx } from '@/lib/platform/db';
import { notFound } from '@/lib/platform/errors';
import { may } from '@/lib/platform/permissions';
import { say } from '@/lib/platform/words/say';
import { countPositions, formatPosition, parsePosition } from '../positions';
import { findAway, findOccupants } from '../repo/occupants';
import {
  countMaterials,
  findInside,
  findUnits,
  findUnitsOnPath,
  findUnitWithAround,
  gridOf,
  type UnitRow as Row,
  toUnits,
} from '../repo/units';
import { buildStorageTree, listPath, resolveConditions, type StorageTree } from '../rules';
import type { Grid, PreservationKind, StorageUnitKind } from '../schema';
import { toOccupant } from '../spots';
import type { StorageTreeAnswer, UnitRecord, UnitRow } from '../wire';

/** Everything known of the tree at one time. */
export type LoadedTree = { rows: Row[]; tree: StorageTree; wire: Map<string, UnitRow> };

/** The tree of a collection without its loads: what the rules ask. */
export const loadUnits = async (tx: Tx, collectionId: string): Promise<StorageTree> =>
  buildStorageTree(toUnits(await findUnits(tx, collectionId)));

/** Reads the whole tree of a collection with its loads. */
export async function loadTree(tx: Tx, collectionId: string): Promise<LoadedTree> {
  return treeOf(await findUnits(tx, collectionId), await countMaterials(tx, collectionId));
}

function treeOf(rows: Row[], counts: ReadonlyMap<string, number>): LoadedTree {
  const children = new Map<string, number>();
  const inside = new Map<string, number>();
  const byId = new Map(rows.map((row) => [row.id, row]));
  for (const row of rows) {
    if (row.parentId !== null) children.set(row.parentId, (children.get(row.parentId) ?? 0) + 1);
    const here = counts.get(row.id) ?? 0;
    for (let at: Row | undefined = row; here > 0 && at !== undefined; at = byId.get(at.parentId ?? '')) {
      inside.set(at.id, (inside.get(at.id) ?? 0) + here);
    }
  }
  const wire = rows.map((row): [string, UnitRow] => {
    const load = (counts.get(row.id) ?? 0) + (children.get(row.id) ?? 0);
    return [row.id, toWire(row, load, inside.get(row.id) ?? 0)];
  });
  return { rows, tree: buildStorageTree(toUnits(rows)), wire: new Map(wire) };
}

export function toWire(row: Row, load: number, materials: number): UnitRow {
  const grid = gridOf(row);
  return {
    id: row.id,
    parentId: row.parentId,
    parentPosition: row.parentPosition,
    kind: row.kind as StorageUnitKind,
    name: row.name,
    code: row.code,
    path: row.path,
    grid,
    capacity: row.capacity,
    targetTempC: row.targetTempC,
    alarmAboveC: row.alarmAboveC,
    allowedPreservations: row.allowedPreservations as PreservationKind[],
    active: row.active,
    load,
    places: grid === null ? row.capacity : countPositions(grid),
    materials,
    version: row.version,
  };
}

/** The whole storage tree with what each unit holds. */
export async function showTree(actor: Actor): Promise<StorageTreeAnswer> {
  authorise(actor, 'storage.see');
  const { wire } = await loadTree(db(), actor.collectionId);
  return {
    units: [...wire.values()],
    abilities: {
      manage: may(actor, 'storage.manage'),
      move: may(actor, 'storage.move'),
      count: may(actor, 'inventory.run'),
    },
  };
}

/** One unit: what stands in it, what lies in it, what is away from it. @throws AppError not-found */
export async function showUnit(actor: Actor, id: string): Promise<UnitRecord> {
  authorise(actor, 'storage.see');
  return describeUnit(db(), actor, id);
}

export async function describeUnit(tx: Tx, actor: Actor, id: string): Promise<UnitRecord> {
  const rows = await findUnitsOnPath(tx, actor.collectionId, id);
  const counts = new Map(rows.map((row) => [row.id, row.materials]));
  // The loads are whole for the unit and what stands in it, not for the units around it, which are only named.
  const loaded = treeOf(rows, counts);
  const unit = loaded.wire.get(id);
  if (unit === undefined) throw notFound(say('This place in the store'));
  const occupants = await findOccupants(tx, id);
  const away = await findAway(tx, actor.collectionId, id);
  const around = resolveConditions(loaded.tree, id);
  const taken = new Set(occupants.map((material) => material.placement?.position));
  return {
    ...unit,
    around: listPath(loaded.tree, id)
      .slice(0, -1)
      .map(({ id: aroundId, name, kind }) => ({ id: aroundId, name, kind })),
    conditions: {
      temperatureC: around.targetTemperatureC,
      preservations: around.allowedPreservations === null ? null : [...around.allowedPreservations],
      freezerId: around.freezerId,
    },
    children: [...loaded.wire.values()].filter((other) => other.parentId === id),
    occupants: occupants.map((material) => {
      const position = material.placement?.position ?? null;
      return toOccupant(actor, material, position, indexIn(unit.grid, position));
    }),
    away: away.map(({ material, position }) => {
      const index = taken.has(position) ? null : indexIn(unit.grid, position);
      return toOccupant(actor, material, position, index);
    }),
    openCountId: rows.find((row) => row.id === id)?.openCountId ?? null,
    abilities: {
      manage: may(actor, 'storage.manage'),
      move: may(actor, 'storage.move'),
      moveUnit: may(actor, 'storage.move', { ownerIds: [] }),
      count: may(actor, 'inventory.run'),
    },
  };
}

function indexIn(grid: Grid | null, position: string | null): number | null {
  if (grid === null || position === null) return null;
  const parsed = parsePosition(grid, position);
  return parsed.ok && formatPosition(grid, parsed.value) === position ? parsed.value : null;
}

/** Ids of a unit of the collection and of all that stands in it; empty when there is no such unit. */
export async function findUnitsInside(tx: Tx, collectionId: string, id: string): Promise<string[]> {
  const around = await findUnitWithAround(tx, collectionId, id);
  return around.length === 0 ? [] : findInside(tx, id);
}
