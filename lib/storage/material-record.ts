import 'server-only';
import { type Actor, authorise } from '@/lib/platform/actor';
import { dayIn, now } from '@/lib/platform/clock';
import { daysBetween } from '@/lib/platform/days';
import { db } from '@/lib/platform/db';
import { notFound } from '@/lib/platform/errors';
import { materialNumber } from '@/lib/platform/numbers';
import { may } from '@/lib/platform/permissions';
import { say } from '@/lib/platform/words/say';
import { placePath } from './naming';
import { findMaterialRecord } from './repo/material-record';
import { findCollection, findNames } from './repo/process';
import type { MaterialRecord } from './schema';

const LEFT = 'somebody who left';

/** One material with its steps and moves, newest first. @throws AppError not-found outside the actor's collection. */
export async function showMaterial(actor: Actor, id: string): Promise<MaterialRecord> {
  authorise(actor, 'materials.see');
  const material = await findMaterialRecord(actor.collectionId, id);
  if (material === null) throw notFound(say('This material'));
  const [{ timeZone }, names] = await Promise.all([
    findCollection(db(), actor.collectionId),
    findNames(db(), [
      ...material.steps.map(({ byId }) => byId),
      ...material.moves.map(({ movedById }) => movedById),
    ]),
  ]);
  const { bird, placement } = material;
  const labelOf = (suffix: string) => materialNumber(bird.catalogue?.number ?? bird.number, suffix);
  const day = (at: Date) => dayIn(timeZone, at);
  return {
    id: material.id,
    label: labelOf(material.suffix),
    suffix: material.suffix,
    kind: material.kind,
    state: material.state,
    custody: material.custody,
    description: material.description,
    madeAt: material.createdAt.toISOString(),
    place:
      placement === null
        ? null
        : {
            unitId: placement.unitId,
            path: placePath(placement) ?? placement.unit.path,
            since: placement.placedAt.toISOString(),
          },
    parent:
      material.parent === null
        ? null
        : { id: material.parent.id, label: labelOf(material.parent.suffix), kind: material.parent.kind },
    loan: material.loanLines.map(({ loan }) => ({ id: loan.id, number: loan.number }))[0] ?? null,
    bird: {
      id: bird.id,
      number: bird.number,
      catalogueNumber: bird.catalogue?.number ?? null,
      scientificName: bird.taxon?.scientificName ?? bird.salvage.verbatimTaxon,
      commonName: bird.taxon?.commonName ?? null,
      sex: bird.sex,
    },
    siblings: bird.materials.map(({ id: other, suffix, kind }) => ({
      id: other,
      label: labelOf(suffix),
      kind,
    })),
    steps: material.steps.map((step) => ({
      id: step.id,
      step: step.step,
      name: step.name,
      state: step.state,
      procedureId: step.procedureId,
      method: step.method,
      temperatureC: step.temperatureC,
      startedAt: step.startedAt.toISOString(),
      dueOn: step.dueAt && day(step.dueAt),
      endedAt: step.endedAt?.toISOString() ?? null,
      note: step.note,
      by: names.get(step.byId) ?? LEFT,
      days: daysBetween(day(step.startedAt), day(step.endedAt ?? now())),
    })),
    moves: material.moves.map((move) => ({
      id: move.id,
      at: move.movedAt.toISOString(),
      by: move.movedById === null ? null : (names.get(move.movedById) ?? LEFT),
      from: move.fromPath,
      to: move.toPath,
      reason: move.reason,
    })),
    today: day(now()),
    abilities: {
      advance:
        material.custody === 'on-shelf' &&
        may(actor, 'materials.advance', {
          ownerIds: [bird.bench?.preparatorId, bird.bench?.scribeId, bird.claimedById],
        }),
    },
  };
}
