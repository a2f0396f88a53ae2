import { catalogueKeys } from '@/components/catalogue/query-keys';
import { ReviewList } from '@/components/catalogue/review-list';
import { listReview } from '@/lib/catalogue/service/review';
import { reviewListQuery } from '@/lib/catalogue/wire';
import { readListQuery, requireActor, type SearchParams, titled, withQueries } from '@/lib/platform/page';

export const generateMetadata = titled('Review desk');

export default async function ReviewPage({ searchParams }: { searchParams: SearchParams }) {
  const actor = await requireActor('bench.review');
  const query = await readListQuery(reviewListQuery, searchParams);
  return withQueries(
    [{ key: catalogueKeys.review(query), load: () => listReview(actor, query) }],
    <ReviewList query={query} />,
  );
}
