import 'server-only';
import { conflict, notFound } from '@/lib/platform/errors';
import type { Work } from '@/lib/platform/tx';
import { say } from '@/lib/platform/words/say';
import { storageEvents } from './events';
import { vialStateWhenFound } from './keeping';
import { labelOf, placePath } from './naming';
import { choosePlace } from './place';
import { rateVials } from './rating';
import {
  countUses,
  findMaterial,
  insertMaterial,
  type MaterialRow,
  recordMove,
  updateCustody,
  updateMaterialState,
} from './repo/materials';

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

/** A material of the actor's collection. @throws AppError not-found */
export async function loadMaterial(work: Work, materialId: string): Promise<MaterialRow> {
  const material = await findMaterial(work.db, work.actor.collectionId, materialId);
  if (material === null) throw notFound(say('This material'));
  return material;
}

type Move = { to: { unitId: string; position?: string | null } | null; reason?: string | null };

/**
 * Puts a material into a unit (and position), or takes it off the shelf when `to` is null. A vial that was only
 * filled is stored from now on, and its quality class follows the temperature of the place.
 * @throws AppError conflict when the place is taken or full or the material is away; not-valid for a place that is
 * none, or that would not keep it
 */
export async function moveMaterial(
  work: Work,
  { materialId, ...move }: Move & { materialId: string },
): Promise<void> {
  await moveLoaded(work, await loadMaterial(work, materialId), move);
}

/** The same for a material that this transaction loaded and has not changed since. */
export async function moveLoaded(work: Work, material: MaterialRow, input: Move): Promise<void> {
  const from = placePath(material.placement);
  const to = input.to === null ? null : await choosePlace(work, material, input.to);
  if (from === (to?.path ?? null)) return;
  await recordMove(work.db, {
    materialId: material.id,
    fromPath: from,
    to,
    reason: input.reason ?? null,
    movedAt: work.now,
    movedById: work.actor.personId,
  });
  if (material.vial !== null && to !== null) {
    if (material.state === 'filled') await updateMaterialState(work.db, material.id, 'filled', 'stored');
    await rateVials(work, [{ ...material.vial, storedAtC: to.targetTemperatureC }]);
  }
  work.audit(
    storageEvents.make(
      'storage.material-moved',
      { subjectType: 'material', subjectId: material.id, birdId: material.birdId, reason: input.reason },
      { material: labelOf(material), from, to: to?.path ?? null },
    ),
  );
}

/** on-shelf, on-loan, missing, deaccessioned or used-up. What is away loses its place on the shelf. */
export async function changeCustody(
  work: Work,
  input: { materialId: string; from: string; to: string; reason?: string | null },
): Promise<void> {
  const material = await loadMaterial(work, input.materialId);
  if (input.to !== 'on-shelf' && material.placement !== null) {
    const reason = input.reason ?? input.to.replace('-', ' ');
    await moveLoaded(work, material, { to: null, reason });
  }
  if ((await updateCustody(work.db, material.id, input.from, input.to)) === 0) {
    throw conflict(
      say('{labelOf} is {replace}, not {replace2}.', {
        labelOf: labelOf(material),
        replace: material.custody.replace('-', ' '),
        replace2: input.from.replace('-', ' '),
      }),
    );
  }
  work.audit(
    storageEvents.make(
      'storage.custody-changed',
      { subjectType: 'material', subjectId: material.id, birdId: material.birdId, reason: input.reason },
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
    throw conflict(say('Somebody else moved this material on a moment ago. Reload and look.'));
  }
}

/** Notes that a material is not where it should be; a vial is lost until somebody finds it. */
export async function markMissing(
  work: Work,
  input: { materialId: string; reason: string | null },
): Promise<void> {
  const material = await loadMaterial(work, input.materialId);
  if (material.custody !== 'on-shelf') {
    throw conflict(
      say('{labelOf} is {replace} and cannot be missing here.', {
        labelOf: labelOf(material),
        replace: material.custody.replace('-', ' '),
      }),
    );
  }
  await changeCustody(work, { ...input, from: 'on-shelf', to: 'missing' });
  if (material.kind === 'vial') {
    await advanceMaterial(work, { materialId: material.id, from: material.state, to: 'lost' });
  }
}

/** Notes that a missing material turned up; the caller puts it into a place. */
export async function markFound(
  work: Work,
  input: { materialId: string; reason: string | null },
): Promise<void> {
  const material = await loadMaterial(work, input.materialId);
  await changeCustody(work, { ...input, from: 'missing', to: 'on-shelf' });
  if (material.kind === 'vial' && material.state === 'lost') {
    const to = vialStateWhenFound((await countUses(work.db, material.id)) > 0);
    await advanceMaterial(work, { materialId: material.id, from: 'lost', to });
  }
}
