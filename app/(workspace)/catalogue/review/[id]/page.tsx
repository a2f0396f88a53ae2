import { notFound } from 'next/navigation';
import { catalogueKeys } from '@/components/catalogue/query-keys';
import { ReviewDesk } from '@/components/catalogue/review-desk';
import { showReview } from '@/lib/catalogue/service/review';
import { orNull, type RecordParams, readId, requireActor, titled, withQueries } from '@/lib/platform/page';

export const generateMetadata = titled('Review');

export default async function ReviewRecordPage({ params }: { params: RecordParams }) {
  const actor = await requireActor('bench.review');
  const id = await readId(params);
  const record = await orNull(showReview(actor, id));
  if (record === null) notFound();
  // A record of its own for each id: what was typed on one stays off the next.
  return withQueries(
    [{ key: catalogueKeys.reviewRecord(id), load: async () => record }],
    <ReviewDesk key={id} id={id} />,
  );
}
