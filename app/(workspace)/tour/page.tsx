import { BirdTour } from '@/components/desk/bird-tour';
import { showTour } from '@/lib/desk/tour';
import { requireActor, titled } from '@/lib/platform/page';

export const generateMetadata = titled('One bird from find to shelf');

export default async function TourPage() {
  const actor = await requireActor('workspace.enter');
  return <BirdTour tour={await showTour(actor)} />;
}
