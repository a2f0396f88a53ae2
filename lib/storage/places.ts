import 'server-only';
import { type Actor, authorise } from '@/lib/platform/actor';
import { notFound } from '@/lib/platform/errors';
import { say } from '@/lib/platform/words/say';
import { rankPlaces } from './place-ranking';
import { countNeighbours, findMaterialTaxa, findUnitsLike } from './repo/places';
import type { PlacesQuery, ProposedPlace, ProposedPlaces } from './schema';

/** Where these materials could be put: beside their relatives of the same kind, and what was looked for by name or code. */
export async function proposePlaces(actor: Actor, query: PlacesQuery): Promise<ProposedPlaces> {
  authorise(actor, 'storage.see');
  const materials = await findMaterialTaxa(actor.collectionId, query.ids);
  if (materials.length !== new Set(query.ids).size) throw notFound(say('One of the chosen materials'));
  const [neighbours, found] = await Promise.all([
    countNeighbours(actor.collectionId, query.ids),
    query.q === undefined ? [] : findUnitsLike(actor.collectionId, query.q),
  ]);
  const taxon = materials.find(({ scientificName }) => scientificName !== null);
  return {
    proposals: rankPlaces(neighbours, materials.length, {
      kind: materials[0]?.kind ?? 'material',
      species: taxon?.scientificName ?? null,
      genus: taxon?.genus ?? null,
      family: taxon?.family ?? null,
    }),
    found: found.map((unit): ProposedPlace => ({ ...unit, reason: null })),
  };
}
