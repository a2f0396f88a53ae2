import { NewPlace } from '@/components/places/new-place';
import { requireActor } from '@/lib/platform/page';

export const metadata = { title: 'Add a place' };

export default async function NewPlacePage() {
  await requireActor('places.manage');
  return <NewPlace />;
}
