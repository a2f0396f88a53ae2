import { tissueKeys } from '@/components/tissues/queries';
import { VialList } from '@/components/tissues/vial-list';
import { readListQuery, requireActor, type SearchParams, titled, withQueries } from '@/lib/platform/page';
import { listVials } from '@/lib/tissues/service/list';
import { vialListQuery } from '@/lib/tissues/wire';

export const generateMetadata = titled('Tissues');

export default async function TissuesPage({ searchParams }: { searchParams: SearchParams }) {
  const actor = await requireActor('tissues.see');
  const query = await readListQuery(vialListQuery, searchParams);
  return withQueries(
    [{ key: tissueKeys.list(query), load: () => listVials(actor, query) }],
    <VialList query={query} />,
  );
}
