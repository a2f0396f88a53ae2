import { PlaceList } from '@/components/places/place-list';
import { placeKeys } from '@/components/places/queries';
import { placeListQuery } from '@/lib/places/schema';
import { listPlaces } from '@/lib/places/service';
import { readListQuery, requireActor, type SearchParams, titled, withQueries } from '@/lib/platform/page';

export const generateMetadata = titled('Places');

export default async function PlacesPage({ searchParams }: { searchParams: SearchParams }) {
  const actor = await requireActor('places.see');
  const query = await readListQuery(placeListQuery, searchParams);
  return withQueries(
    [{ key: placeKeys.list(query), load: () => listPlaces(actor, query) }],
    <PlaceList query={query} />,
  );
}
