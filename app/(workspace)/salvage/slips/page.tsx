import { salvageKeys } from '@/components/salvage/queries';
import { SlipList } from '@/components/salvage/slip-list';
import { readListQuery, requireActor, type SearchParams, titled, withQueries } from '@/lib/platform/page';
import { pageQuery } from '@/lib/platform/paging';
import { listSlips } from '@/lib/salvage/service/slips';

export const generateMetadata = titled('Drop-off slips');

export default async function SlipsPage({ searchParams }: { searchParams: SearchParams }) {
  const actor = await requireActor('salvage.slips');
  const query = await readListQuery(pageQuery, searchParams);
  return withQueries(
    [{ key: salvageKeys.slips(query), load: () => listSlips(actor, query) }],
    <SlipList query={query} />,
  );
}
