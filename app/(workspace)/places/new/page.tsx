import { NewPlace } from '@/components/places/new-place';
import { requireActor, titled } from '@/lib/platform/page';

export const generateMetadata = titled('Add a place');

export default async function NewPlacePage() {
  await requireActor('places.manage');
  return <NewPlace />;
}
