import 'server-only';
import { CAUTIONS } from '@/lib/bench/public';
import { type Actor, authorise } from '@/lib/platform/actor';
import { paths } from '@/lib/platform/paths';
import { may } from '@/lib/platform/permissions';
import { showBird } from './bird';
import { type Place, placesOf } from './places';
import { findBirdToFollow } from './repo/tour';
import type { BirdRecord, LifeBranch, LifeStage } from './schema';
import { STATIONS, type Station } from './stations';

export type TourFact = {
  label: string;
  at: string | null;
  by: string | null;
  place: string | null;
  href: string | null;
};
export type TourStation = Pick<Station, 'id' | 'title' | 'text'> & {
  /** What is known of the bird that is followed; empty for readers who see no birds but approved ones. */
  facts: TourFact[];
  places: Pick<Place, 'id' | 'label' | 'href'>[];
  cautions: readonly { id: string; title: string; text: string; source: string }[];
};
export type Tour = {
  bird: { name: string; scientificName: string; commonName: string | null; href: string | null } | null;
  life: { stages: LifeStage[]; branches: LifeBranch[] } | null;
  stations: TourStation[];
};

/** The way of one bird of this collection, station by station, with the pages that this person may open. */
export async function showTour(actor: Actor): Promise<Tour> {
  authorise(actor, 'workspace.enter');
  const found = await findBirdToFollow(actor.collectionId);
  const record = found !== null && may(actor, 'salvage.see') ? await showBird(actor, found.id) : null;
  const open = placesOf(actor);
  return {
    bird:
      found === null
        ? null
        : {
            name: found.catalogue?.number ?? found.number,
            scientificName: found.taxon?.scientificName ?? '',
            commonName: found.taxon?.commonName ?? null,
            href: record === null ? hrefForReaders(actor, found.id) : paths.bird(found.id),
          },
    life: record?.life ?? null,
    stations: STATIONS.map((station) => ({
      id: station.id,
      title: station.title,
      text: station.text,
      facts: record === null ? [] : factsOf(station, record),
      places: station.places.flatMap((id) => open.filter((place) => place.id === id)),
      cautions: station.cautions.flatMap((id) => CAUTIONS.filter((caution) => caution.id === id)),
    })),
  };
}

const hrefForReaders = (actor: Actor, birdId: string) =>
  may(actor, 'catalogue.see') ? paths.catalogueEntry(birdId) : null;

function factsOf({ facts, id }: Station, bird: BirdRecord): TourFact[] {
  if (facts === null) return [];
  if ('stage' in facts)
    return bird.life.stages
      .filter((stage) => stage.id === facts.stage && stage.at !== null)
      .map(({ label, at, by, href }) => ({ label, at, by, place: null, href: href ?? null }));
  return bird.materials
    .filter(({ kind }) => facts.kinds.includes(kind))
    .map(({ id: materialId, kind, label, place }) => ({
      label,
      at: null,
      by: null,
      place: id === 'shelved' ? place : null,
      href: kind === 'vial' ? paths.vial(materialId) : paths.material(materialId),
    }));
}
