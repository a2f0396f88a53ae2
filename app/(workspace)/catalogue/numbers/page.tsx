import { LabNumbers } from '@/components/catalogue/lab-numbers';
import { catalogueKeys } from '@/components/catalogue/query-keys';
import { numbersQuery } from '@/lib/catalogue/figures-wire';
import { showNumbers } from '@/lib/catalogue/service/figures';
import { readListQuery, requireActor, type SearchParams, titled, withQueries } from '@/lib/platform/page';

export const generateMetadata = titled('The lab in numbers');

export default async function NumbersPage({ searchParams }: { searchParams: SearchParams }) {
  const actor = await requireActor('numbers.see');
  const query = await readListQuery(numbersQuery, searchParams);
  return withQueries(
    [{ key: catalogueKeys.numbers(query), load: () => showNumbers(actor, query) }],
    <LabNumbers years={query.years} />,
  );
}
