import { createReadStream } from 'node:fs';
import path from 'node:path';
import { peopleEvents } from '@/lib/people/events';
import type { Actor, CommandContext } from '@/lib/platform/actor';
import { systemActor } from '@/lib/platform/actor';
import { db } from '@/lib/platform/db';
import { DEMO_PASSWORD, DEMO_PEOPLE } from '@/lib/platform/identity/demo';
import { hashPassword } from '@/lib/platform/identity/passwords';
import { withTx } from '@/lib/platform/tx';
import { storageEvents } from '@/lib/storage/events';
import { readChecklist } from '@/lib/taxa/public';

/** The invented museum, its people and its rooms. */
export type Stage = {
  collectionId: string;
  /** By the first part of the demo e-mail: 'volunteer', 'preparator', 'curator', … */
  people: Record<string, Actor>;
  units: Record<string, string>;
  taxa: Map<string, string>;
  /** How many vials lie in each tissue freezer, 'A' and 'B'. */
  vialsIn: { A: number; B: number };
};

export const contextOf = (actor: Actor): CommandContext => ({ actor, requestId: 'demo' });

const EXTRA_PEOPLE = [
  { email: 'learner@demo.example', name: 'Wen Adair', roles: ['volunteer'] as const },
  { email: 'volunteer3@demo.example', name: 'Odile Farrow', roles: ['volunteer'] as const },
];

export async function foundMuseum(): Promise<Stage> {
  const collection = await db().collection.create({
    data: { code: 'QMB', name: 'Bird collection of Quillmere Museum', timeZone: 'America/New_York' },
  });
  const collectionId = collection.id;
  const passwordDigest = await hashPassword(DEMO_PASSWORD);
  const people: Record<string, Actor> = {};
  for (const { email, name, roles } of [...DEMO_PEOPLE, ...EXTRA_PEOPLE]) {
    const person = await db().person.create({
      data: {
        email,
        name,
        passwordDigest,
        memberships: { create: roles.map((role) => ({ role, collectionId })) },
      },
    });
    people[email.split('@')[0] ?? email] = { personId: person.id, name, collectionId, roles };
  }
  await withTx({ actor: systemActor(collectionId) }, async (work) => {
    const subject = { subjectType: 'collection', subjectId: collectionId };
    work.audit(
      peopleEvents.make('people.collection-founded', subject, {
        name: collection.name,
        code: collection.code,
      }),
    );
    for (const person of Object.values(people)) {
      work.audit(
        peopleEvents.make(
          'people.joined',
          { subjectType: 'person', subjectId: person.personId ?? '' },
          { person: person.name },
        ),
      );
    }
  });
  return {
    collectionId,
    people,
    units: await furnishRooms(collectionId),
    taxa: await loadStarterTaxa(),
    vialsIn: { A: 0, B: 0 },
  };
}

type Room = {
  key: string;
  parent: string | null;
  kind: string;
  name: string;
  code: string;
  targetTempC?: number;
  grid?: { rows: number; columns: number };
  capacity?: number;
};

const ROOMS: readonly Room[] = [
  { key: 'site', parent: null, kind: 'site', name: 'Quillmere Museum', code: 'QM' },
  { key: 'lab', parent: 'site', kind: 'room', name: 'Preparation lab', code: 'QM-LAB' },
  {
    key: 'freezer',
    parent: 'lab',
    kind: 'freezer',
    name: 'Chest freezer 1',
    code: 'QM-F1',
    targetTempC: -20,
    capacity: 120,
  },
  {
    key: 'freezer2',
    parent: 'lab',
    kind: 'freezer',
    name: 'Chest freezer 2',
    code: 'QM-F2',
    targetTempC: -20,
    capacity: 80,
  },
  { key: 'board', parent: 'lab', kind: 'shelf', name: 'Drying board', code: 'QM-DRY', capacity: 60 },
  { key: 'colony', parent: 'lab', kind: 'cabinet', name: 'Cleaning room', code: 'QM-BUG', capacity: 40 },
  { key: 'tissueRoom', parent: 'site', kind: 'room', name: 'Tissue room', code: 'QM-TR' },
  {
    key: 'ultra',
    parent: 'tissueRoom',
    kind: 'freezer',
    name: 'Ultra-cold freezer A',
    code: 'QM-UA',
    targetTempC: -80,
  },
  {
    key: 'ultraB',
    parent: 'tissueRoom',
    kind: 'freezer',
    name: 'Ultra-cold freezer B',
    code: 'QM-UB',
    targetTempC: -80,
  },
  { key: 'rack', parent: 'ultra', kind: 'rack', name: 'Rack 1', code: 'QM-UA-R1' },
  { key: 'rackB', parent: 'ultraB', kind: 'rack', name: 'Rack 1', code: 'QM-UB-R1' },
  {
    key: 'box1',
    parent: 'rack',
    kind: 'box',
    name: 'Box 1',
    code: 'QM-UA-B1',
    grid: { rows: 9, columns: 9 },
  },
  {
    key: 'box2',
    parent: 'rack',
    kind: 'box',
    name: 'Box 2',
    code: 'QM-UA-B2',
    grid: { rows: 9, columns: 9 },
  },
  {
    key: 'boxB1',
    parent: 'rackB',
    kind: 'box',
    name: 'Box 1',
    code: 'QM-UB-B1',
    grid: { rows: 9, columns: 9 },
  },
  {
    key: 'boxB2',
    parent: 'rackB',
    kind: 'box',
    name: 'Box 2',
    code: 'QM-UB-B2',
    grid: { rows: 9, columns: 9 },
  },
  { key: 'hall', parent: 'site', kind: 'room', name: 'Collection hall', code: 'QM-H' },
  { key: 'skins', parent: 'hall', kind: 'cabinet', name: 'Cabinet 4, study skins', code: 'QM-H4' },
  { key: 'drawer1', parent: 'skins', kind: 'drawer', name: 'Drawer 1', code: 'QM-H4-D1', capacity: 60 },
  { key: 'drawer2', parent: 'skins', kind: 'drawer', name: 'Drawer 2', code: 'QM-H4-D2', capacity: 60 },
  { key: 'bones', parent: 'hall', kind: 'cabinet', name: 'Cabinet 9, skeletons', code: 'QM-H9' },
  { key: 'boneShelf', parent: 'bones', kind: 'shelf', name: 'Shelf 1', code: 'QM-H9-S1', capacity: 80 },
];

async function furnishRooms(collectionId: string): Promise<Record<string, string>> {
  const ids: Record<string, string> = {};
  const pathOf: Record<string, string> = {};
  await withTx({ actor: systemActor(collectionId) }, async (work) => {
    for (const room of ROOMS) {
      const above = room.parent === null ? null : (pathOf[room.parent] ?? null);
      const unitPath = above === null ? room.name : `${above} › ${room.name}`;
      const made = await work.db.storageUnit.create({
        data: {
          collectionId,
          parentId: room.parent === null ? null : (ids[room.parent] ?? null),
          kind: room.kind,
          name: room.name,
          code: room.code,
          path: unitPath,
          rows: room.grid?.rows ?? null,
          columns: room.grid?.columns ?? null,
          naming: room.grid === undefined ? null : 'row-letter',
          targetTempC: room.targetTempC ?? null,
          capacity: room.capacity ?? null,
        },
      });
      ids[room.key] = made.id;
      pathOf[room.key] = unitPath;
      work.audit(
        storageEvents.make(
          'storage.unit-made',
          { subjectType: 'unit', subjectId: made.id },
          { path: unitPath, kind: room.kind, code: room.code },
        ),
      );
    }
  });
  return ids;
}

/** The starter checklist of seed/checklist as the list in use. */
async function loadStarterTaxa(): Promise<Map<string, string>> {
  const file = path.resolve('seed/checklist/starter.csv');
  const checklist = await db().checklist.create({
    data: {
      name: 'Starter checklist',
      edition: '2026',
      credit: 'Selection from memory; names compared with AviList v2025 (CC BY 4.0)',
      current: true,
    },
  });
  const ids = new Map<string, string>();
  let sortOrder = 0;
  for await (const read of readChecklist(createReadStream(file), ',')) {
    if (!read.ok) throw new Error(`${file}, line ${read.line}: ${read.reason}`);
    const row = read.taxon;
    sortOrder += 1;
    const acceptedId = row.acceptedName === null ? null : (ids.get(row.acceptedName) ?? null);
    const made = await db().taxon.create({
      data: {
        checklistId: checklist.id,
        scientificName: row.scientificName,
        rank: row.rank,
        commonName: row.vernacularName,
        orderName: row.order,
        familyName: row.family,
        genus: row.scientificName.split(' ')[0] ?? null,
        acceptedId,
        sensitive: row.sensitive,
        sortOrder,
      },
    });
    ids.set(row.scientificName, made.id);
  }
  await db().checklist.update({ where: { id: checklist.id }, data: { rowsRead: sortOrder } });
  return ids;
}
