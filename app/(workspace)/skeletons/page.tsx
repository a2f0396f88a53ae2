import { skeletonKeys } from '@/components/skeletons/queries';
import { SkeletonList } from '@/components/skeletons/skeleton-list';
import { readListQuery, requireActor, type SearchParams, titled, withQueries } from '@/lib/platform/page';
import { skeletonListQuery } from '@/lib/skeletons/schema';
import { listSkeletons } from '@/lib/skeletons/service';

export const generateMetadata = titled('Skeletons');

export default async function SkeletonsPage({ searchParams }: { searchParams: SearchParams }) {
  const actor = await requireActor('materials.see');
  const query = await readListQuery(skeletonListQuery, searchParams);
  return withQueries(
    [{ key: skeletonKeys.list(query), load: () => listSkeletons(actor, query) }],
    <SkeletonList query={query} />,
  );
}
