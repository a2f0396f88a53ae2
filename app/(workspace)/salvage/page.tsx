import { FindList } from '@/components/salvage/find-list';
import { salvageKeys } from '@/components/salvage/queries';
import { personOf } from '@/lib/platform/actor';
import { readListQuery, requireActor, type SearchParams, titled, withQueries } from '@/lib/platform/page';
import { may } from '@/lib/platform/permissions';
import { listFinds } from '@/lib/salvage/service/reading';
import { salvageListQuery } from '@/lib/salvage/wire-list';

export const generateMetadata = titled('Salvage');

export default async function SalvagePage({ searchParams }: { searchParams: SearchParams }) {
  const actor = await requireActor('salvage.see');
  const query = await readListQuery(salvageListQuery, searchParams);
  return withQueries(
    [{ key: salvageKeys.list(query), load: () => listFinds(actor, query) }],
    <FindList
      query={query}
      may={{ log: may(actor, 'salvage.log'), slips: may(actor, 'salvage.slips') }}
      personId={personOf(actor)}
    />,
  );
}
