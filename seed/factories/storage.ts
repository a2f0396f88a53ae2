import { randomUUID } from 'node:crypto';
import type { Actor } from '@/lib/platform/actor';
import type { Db } from '@/lib/platform/db';
import type { Grid, StorageUnitKind } from '@/lib/storage/schema';
import { fillVials } from '@/lib/tissues/service/fill';
import { fillRequest } from '@/lib/tissues/wire';
import { contextOf, makeBird } from './index';

type UnitInput = {
  parentId?: string | null;
  kind?: StorageUnitKind;
  name?: string;
  grid?: Grid;
  capacity?: number;
  targetTempC?: number;
  alarmAboveC?: number;
  allowedPreservations?: string[];
  parentPosition?: string;
};

export async function makeUnit(db: Db, collectionId: string, input: UnitInput = {}) {
  const { parentId = null, kind = 'box', grid } = input;
  const name = input.name ?? `${kind} ${randomUUID().slice(0, 6)}`;
  const parent =
    parentId === null ? null : await db.storageUnit.findUniqueOrThrow({ where: { id: parentId } });
  return db.storageUnit.create({
    data: {
      collectionId,
      parentId,
      parentPosition: input.parentPosition ?? null,
      kind,
      name,
      code: `C-${randomUUID().slice(0, 13)}`,
      path: parent === null ? name : `${parent.path} › ${name}`,
      rows: grid?.rows ?? null,
      columns: grid?.columns ?? null,
      naming: grid?.scheme ?? null,
      capacity: input.capacity ?? null,
      targetTempC: input.targetTempC ?? null,
      alarmAboveC: input.alarmAboveC ?? null,
      allowedPreservations: input.allowedPreservations ?? [],
    },
  });
}

export const NINE: Grid = { rows: 9, columns: 9, scheme: 'row-letter' };

/** A freezer with a rack and boxes of nine by nine in a room of its own. */
export async function makeFreezer(
  db: Db,
  collectionId: string,
  input: {
    name?: string;
    targetTempC?: number;
    alarmAboveC?: number;
    boxes?: number;
    rackCapacity?: number;
  } = {},
) {
  const room = await makeUnit(db, collectionId, { kind: 'room' });
  const { name, targetTempC = -80, alarmAboveC = -60 } = input;
  const freezer = await makeUnit(db, collectionId, {
    parentId: room.id,
    kind: 'freezer',
    name,
    targetTempC,
    alarmAboveC,
  });
  const rack = await makeUnit(db, collectionId, {
    parentId: freezer.id,
    kind: 'rack',
    name: 'Rack 1',
    capacity: input.rackCapacity ?? 12,
  });
  const boxes = [];
  for (let number = 1; number <= (input.boxes ?? 1); number += 1) {
    boxes.push(await makeUnit(db, collectionId, { parentId: rack.id, name: `Box ${number}`, grid: NINE }));
  }
  const [box] = boxes;
  if (box === undefined) throw new Error('A freezer for tests has at least one box.');
  return { room, freezer, rack, boxes, box };
}

/** Vials of one bird, each of 100 mg of frozen muscle unless said otherwise. */
export async function makeVials(
  db: Db,
  actor: Actor,
  vials: Record<string, unknown>[] = [{}],
  input: { birdId?: string } = {},
) {
  const birdId = input.birdId ?? (await makeBird(db, actor.collectionId, { birdState: 'in-freezer' })).id;
  const request = fillRequest.parse({
    birdId,
    vials: vials.map((vial) => ({
      tissues: ['muscle'],
      preservation: { kind: 'frozen' },
      container: { kind: 'cryovial', volumeMl: 2 },
      amount: { value: 100, unit: 'mg' },
      ...vial,
    })),
  });
  return fillVials(contextOf(actor), request);
}
