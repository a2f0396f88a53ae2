import 'server-only';
import { conflict, notFound, notValid } from '@/lib/platform/errors';
import { materialNumber } from '@/lib/platform/numbers';
import type { Work } from '@/lib/platform/tx';
import { storageEvents } from './events';
import {
  findMaterial,
  findUnit,
  insertMaterial,
  type MaterialRow,
  recordMove,
  updateCustody,
  updateMaterialState,
} from './repo/materials';

/** The label of a material: under the catalogue number once there is one, before that under the salvage number. */
export function labelOf(material: {
  suffix: string;
  bird: { number: string; catalogue: { number: string } | null };
}): string {
  return materialNumber(material.bird.catalogue?.number ?? material.bird.number, material.suffix);
}

export const placePath = (
  placement: { unit: { path: string }; position: string | null } | null,
): string | null =>
  placement === null
    ? null
    : [placement.unit.path, placement.position].filter((part) => part !== null).join(' › ');

/** Makes a material of a bird, inside the caller's transaction. Suffixes are unique within the bird. */
export async function createMaterial(
  work: Work,
  input: {
    birdId: string;
    parentId?: string | null;
    kind: string;
    suffix: string;
    state?: string | null;
    description?: string | null;
  },
): Promise<{ id: string; label: string }> {
  const { parentId = null, state = null, description = null, ...rest } = input;
  const { collectionId } = work.actor;
  const made = await insertMaterial(work.db, { ...rest, parentId, state, description, collectionId });
  const label = labelOf(made);
  work.audit(
    storageEvents.make(
      'storage.material-made',
      { subjectType: 'material', subjectId: made.id, birdId: input.birdId },
      { material: label, kind: input.kind, from: parentId },
    ),
  );
  return { id: made.id, label };
}

async function load(work: Work, materialId: string): Promise<MaterialRow> {
  const material = await findMaterial(work.db, work.actor.collectionId, materialId);
  if (material === null) throw notFound('This material');
  return material;
}

/**
 * Puts a material into a unit (and position), or takes it off the shelf when `to` is null. The database refuses a
 * second material in a position and a place for what is away.
 */
export async function moveMaterial(
  work: Work,
  input: {
    materialId: string;
    to: { unitId: string; position?: string | null } | null;
    reason?: string | null;
  },
): Promise<void> {
  const material = await load(work, input.materialId);
  const from = placePath(material.placement);
  let to: { unitId: string; position: string | null; path: string } | null = null;
  if (input.to !== null) {
    const unit = await findUnit(work.db, work.actor.collectionId, input.to.unitId);
    if (unit === null) throw notFound('This place in the store');
    if (unit.rows !== null && !input.to.position) {
      throw notValid(`${unit.name} has numbered positions; say which one.`, [
        { path: 'position', message: 'Choose a position.' },
      ]);
    }
    to = { unitId: unit.id, position: input.to.position ?? null, path: unit.path };
  }
  const toPath = to === null ? null : placePath({ unit: { path: to.path }, position: to.position });
  if (from === toPath) return;
  await recordMove(work.db, {
    materialId: material.id,
    fromPath: from,
    to: to === null ? null : { ...to, path: toPath ?? to.path },
    reason: input.reason ?? null,
    movedAt: work.now,
    movedById: work.actor.personId,
  });
  work.audit(
    storageEvents.make(
      'storage.material-moved',
      { subjectType: 'material', subjectId: material.id, birdId: material.birdId, reason: input.reason },
      { material: labelOf(material), from, to: toPath },
    ),
  );
}

/** on-shelf, on-loan, missing, deaccessioned or used-up. What is away loses its place on the shelf. */
export async function changeCustody(
  work: Work,
  input: { materialId: string; from: string; to: string },
): Promise<void> {
  const material = await load(work, input.materialId);
  if (input.to !== 'on-shelf' && material.placement !== null) {
    await moveMaterial(work, { materialId: material.id, to: null, reason: input.to.replace('-', ' ') });
  }
  if ((await updateCustody(work.db, material.id, input.from, input.to)) === 0) {
    throw conflict(
      `${labelOf(material)} is ${material.custody.replace('-', ' ')}, not ${input.from.replace('-', ' ')}.`,
    );
  }
  work.audit(
    storageEvents.make(
      'storage.custody-changed',
      { subjectType: 'material', subjectId: material.id, birdId: material.birdId },
      { material: labelOf(material), from: input.from, to: input.to },
    ),
  );
}

/** Moves a material on in its kind's states; the caller has asked its transition table and writes its own event. */
export async function advanceMaterial(
  work: Work,
  input: { materialId: string; from: string | null; to: string },
): Promise<void> {
  if ((await updateMaterialState(work.db, input.materialId, input.from, input.to)) === 0) {
    throw conflict('Somebody else moved this material on a moment ago. Reload and look.');
  }
}
