import { BenchDesk } from '@/components/bench/bench-desk';
import { benchKeys } from '@/components/bench/keys';
import { listRecords, showDesk } from '@/lib/bench/service/records';
import { benchListQuery } from '@/lib/bench/wire-desk';
import { personOf } from '@/lib/platform/actor';
import { readListQuery, requireActor, type SearchParams, titled, withQueries } from '@/lib/platform/page';

export const generateMetadata = titled('Bench');

export default async function BenchPage({ searchParams }: { searchParams: SearchParams }) {
  const actor = await requireActor('bench.see');
  const query = await readListQuery(benchListQuery, searchParams);
  return withQueries(
    [
      { key: benchKeys.desk, load: () => showDesk(actor) },
      { key: benchKeys.list(query), load: () => listRecords(actor, query) },
    ],
    <BenchDesk query={query} meId={personOf(actor)} />,
  );
}
