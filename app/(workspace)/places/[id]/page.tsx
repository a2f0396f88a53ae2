import { notFound } from 'next/navigation';
import { PlacePage } from '@/components/places/place-page';
import { placeKeys } from '@/components/places/queries';
import { showPlace } from '@/lib/places/service';
import { orNull, type RecordParams, readId, requireActor, titled, withQueries } from '@/lib/platform/page';

export const generateMetadata = titled('Place');

export default async function OnePlacePage({ params }: { params: RecordParams }) {
  const actor = await requireActor('places.see');
  const id = await readId(params);
  const record = await orNull(showPlace(actor, id));
  if (record === null) notFound();
  return withQueries([{ key: placeKeys.record(id), load: async () => record }], <PlacePage id={id} />);
}
