import 'server-only';
import { authorise, type CommandContext } from '@/lib/platform/actor';
import { conflict, notFound, staleVersion } from '@/lib/platform/errors';
import { differences } from '@/lib/platform/events';
import { type Work, withTx } from '@/lib/platform/tx';
import { say } from '@/lib/platform/words/say';
import { storageEvents } from '../events';
import { findFreePositions } from '../positions';
import {
  findInside,
  findPlacedPositions,
  findUnitCodes,
  insertUnits,
  lockTree,
  rewritePaths,
  takeUnitNumbers,
  updateUnit,
} from '../repo/units';
import type { StorageUnit } from '../schema';
import type { ChangeUnitRequest, MakeUnitsRequest, UnitRecord, UnitRow } from '../wire';
import { findCodeOwner } from './codes';
import { describeUnit, type LoadedTree, loadTree, toWire } from './tree';
import {
  checkChange,
  checkMove,
  checkRoom,
  namePosition,
  positionOf,
  rateInside,
  readPosition,
  refused,
} from './unit-checks';

const separator = ' › ';

/** Adds one unit, or several alike with numbered names, to the storage tree. */
export async function makeUnits(
  context: CommandContext,
  request: MakeUnitsRequest,
): Promise<{ units: UnitRow[] }> {
  authorise(context.actor, 'storage.manage');
  return withTx(context, async (work) => {
    await lockTree(work.db, context.actor.collectionId);
    const loaded = await loadTree(work.db, context.actor.collectionId);
    const parent = request.parentId === null ? null : loaded.wire.get(request.parentId);
    if (parent === undefined) throw notFound(say('The place it should stand in'));
    checkRoom(parent, request.count);
    const names = nameUnits(request, loaded);
    const positions = await choosePositions(work, request, loaded);
    const codes = await chooseCodes(work, request);
    let tree = loaded.tree;
    const data = names.map((name, index) => {
      const position = positions[index] ?? null;
      const unit = { ...draftUnit(request, name, codes[index] ?? ''), id: `new ${index}` };
      tree = new Map([...tree, [unit.id, unit]]);
      checkMove(tree, unit.id, { parentId: request.parentId, position }, []);
      tree = new Map([...tree, [unit.id, { ...unit, parentId: request.parentId, parentPosition: position }]]);
      return {
        collectionId: context.actor.collectionId,
        parentId: request.parentId,
        parentPosition: namePosition(parent?.grid ?? null, position),
        kind: request.kind,
        name,
        code: unit.code,
        path: parent === null ? name : parent.path + separator + name,
        ...columnsOf(request),
      };
    });
    const rows = await insertUnits(work.db, data);
    for (const row of rows) {
      work.audit(
        storageEvents.make(
          'storage.unit-made',
          { subjectType: 'unit', subjectId: row.id },
          { path: row.path, kind: row.kind, code: row.code },
        ),
      );
    }
    return { units: rows.map((row) => toWire(row, 0, 0)) };
  });
}

/** Changes a unit's settings; refused when what is in it would no longer belong there. */
export async function changeUnit(
  context: CommandContext,
  id: string,
  { version, reason, ...wanted }: ChangeUnitRequest,
): Promise<UnitRecord> {
  const { actor } = context;
  authorise(actor, 'storage.manage');
  return withTx(context, async (work) => {
    await lockTree(work.db, actor.collectionId);
    const loaded = await loadTree(work.db, actor.collectionId);
    const before = loaded.wire.get(id);
    if (before === undefined) throw notFound(say('This place in the store'));
    if (before.version !== version) throw staleVersion(before.name, await describeUnit(work.db, actor, id));
    const after = { ...before, ...wanted };
    const inside = await findInside(work.db, id);
    await checkChange(work, loaded, before, after, inside);
    const changed = await updateUnit(work.db, { id, version }, { ...columnsOf(after), ...namesOf(after) });
    if (changed === 0) throw staleVersion(before.name, before);
    if (after.name !== before.name) {
      const to = before.path.slice(0, before.path.length - before.name.length) + after.name;
      await rewritePaths(work.db, { id, from: before.path, to, inside });
    }
    if (after.targetTempC !== before.targetTempC) await rateInside(work, inside);
    work.audit(
      storageEvents.make(
        'storage.unit-changed',
        { subjectType: 'unit', subjectId: id, reason },
        { changes: differences(before, wanted) },
      ),
    );
    return describeUnit(work.db, actor, id);
  });
}

const columnsOf = (
  unit: Pick<UnitRow, 'grid' | 'capacity' | 'targetTempC' | 'alarmAboveC' | 'allowedPreservations'>,
) => ({
  rows: unit.grid?.rows ?? null,
  columns: unit.grid?.columns ?? null,
  naming: unit.grid?.scheme ?? null,
  capacity: unit.capacity,
  targetTempC: unit.targetTempC,
  alarmAboveC: unit.alarmAboveC,
  allowedPreservations: unit.allowedPreservations,
});
const namesOf = ({ name, code, active }: UnitRow) => ({ name, code, active });

const draftUnit = (request: MakeUnitsRequest, name: string, code: string): Omit<StorageUnit, 'id'> => ({
  parentId: null,
  parentPosition: null,
  kind: request.kind,
  name,
  code,
  grid: request.grid,
  capacity: request.capacity,
  targetTemperatureC: request.targetTempC,
  allowedPreservations: request.allowedPreservations.length === 0 ? null : request.allowedPreservations,
});

/** One keeps its name; several are numbered on from what stands there already. */
function nameUnits({ name, count, parentId }: MakeUnitsRequest, { wire }: LoadedTree): string[] {
  const siblings = [...wire.values()].filter((unit) => unit.parentId === parentId).map((unit) => unit.name);
  if (count === 1) {
    if (siblings.includes(name)) throw refused('name', say('There is already a {name} here.', { name }));
    return [name];
  }
  const numbers = siblings.flatMap((sibling) =>
    sibling.startsWith(`${name} `) ? Number(sibling.slice(name.length + 1)) || [] : [],
  );
  const first = Math.max(0, ...numbers) + 1;
  return Array.from({ length: count }, (_, index) => `${name} ${first + index}`);
}

async function choosePositions(
  work: Work,
  request: MakeUnitsRequest,
  { wire }: LoadedTree,
): Promise<number[]> {
  const parent = request.parentId === null ? undefined : wire.get(request.parentId);
  const grid = parent?.grid ?? null;
  if (parent === undefined || grid === null) return [];
  if (request.parentPosition) return [readPosition(grid, request.parentPosition)];
  const taken = new Set(
    [...wire.values()].flatMap((unit) =>
      unit.parentId === parent.id ? positionOf(grid, unit.parentPosition) : [],
    ),
  );
  for (const { position } of await findPlacedPositions(work.db, [parent.id])) {
    for (const index of positionOf(grid, position)) taken.add(index);
  }
  const free = findFreePositions(grid, taken, request.count);
  if (free.length < request.count) {
    throw conflict(
      say('{name} has {length} free positions for {count} units. Nothing was added.', {
        name: parent.name,
        length: free.length,
        count: request.count,
      }),
    );
  }
  return free;
}

async function chooseCodes(work: Work, request: MakeUnitsRequest): Promise<string[]> {
  const { collectionId } = work.actor;
  if (request.code) {
    const owner = await findCodeOwner(work.db, work.actor, request.code);
    if (owner !== null)
      throw refused(
        'code',
        say('The code {code} is already that of {owner}.', { code: request.code, owner }),
      );
    return [request.code];
  }
  const codes: string[] = [];
  while (codes.length < request.count) {
    const numbers = await takeUnitNumbers(work.db, collectionId, request.count - codes.length);
    const made = numbers.map((number) => `U-${String(number).padStart(5, '0')}`);
    const taken = new Set(await findUnitCodes(work.db, collectionId, made));
    codes.push(...made.filter((code) => !taken.has(code)));
  }
  return codes;
}
