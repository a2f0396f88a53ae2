import 'server-only';
import type { Actor } from '@/lib/platform/actor';
import { may } from '@/lib/platform/permissions';
import { say, sayCode } from '@/lib/platform/words/say';
import { markOf } from './keeping';
import { labelOf, placePath } from './naming';
import type { MaterialRow } from './repo/materials';
import type { OccupantRow } from './repo/occupants';
import type { MaterialSpot, Occupant } from './wire';

/** People whose own work a material is: who has its bird, who prepared it, who filled the vial. */
export const ownersOf = ({ bird, vial }: OccupantRow): (string | null | undefined)[] => [
  bird.claimedById,
  bird.bench?.preparatorId,
  bird.bench?.scribeId,
  vial?.filledById,
];

export const mayMove = (actor: Actor, material: OccupantRow): boolean =>
  may(actor, 'storage.move', { ownerIds: ownersOf(material) });

/** What a material is, in a few words: "liver, heart" or "skeleton". */
function whatIs(material: OccupantRow): string {
  if (material.vial !== null) return material.vial.tissues.map(sayCode).join(', ');
  return material.description ?? sayCode(material.kind);
}

function lookOf({ custody, state }: OccupantRow): Occupant['look'] {
  if (custody === 'on-loan') return 'on-loan';
  if (custody === 'missing') return 'missing';
  return state === 'partly-used' ? 'partly-used' : 'stored';
}

const nameOf = ({ bird }: OccupantRow): string => bird.taxon?.scientificName ?? say('not yet identified');

export function toOccupant(
  actor: Actor,
  material: OccupantRow,
  position: string | null,
  index: number | null,
): Occupant {
  const label = labelOf(material);
  return {
    materialId: material.id,
    birdId: material.birdId,
    label,
    code: material.vial?.code ?? label,
    mark: markOf(material.suffix, material.vial?.tissues ?? []),
    look: lookOf(material),
    position,
    index,
    kind: material.kind,
    state: material.state,
    custody: material.custody,
    scientificName: nameOf(material),
    what: whatIs(material),
    placedAt: material.placement?.placedAt.toISOString() ?? null,
    mayMove: mayMove(actor, material),
  };
}

/** A material as a scan finds it. @param lastPlace where it lay before it was lent or went missing */
export function toSpot(actor: Actor, material: MaterialRow, lastPlace: string | null): MaterialSpot {
  const label = labelOf(material);
  return {
    materialId: material.id,
    birdId: material.birdId,
    label,
    code: material.vial?.code ?? label,
    kind: material.kind,
    state: material.state,
    custody: material.custody,
    scientificName: nameOf(material),
    unitId: material.placement?.unitId ?? null,
    position: material.placement?.position ?? null,
    place: placePath(material.placement),
    lastPlace: material.placement === null ? lastPlace : null,
    mayMove: mayMove(actor, material),
  };
}
