import { PeopleList } from '@/components/people/people-list';
import { peopleKeys } from '@/components/people/queries';
import { peopleQuery } from '@/lib/people/schema';
import { listPeople } from '@/lib/people/service';
import { readListQuery, requireActor, type SearchParams, titled, withQueries } from '@/lib/platform/page';

export const generateMetadata = titled('People');

export default async function PeoplePage({ searchParams }: { searchParams: SearchParams }) {
  const actor = await requireActor('people.manage');
  const query = await readListQuery(peopleQuery, searchParams);
  return withQueries(
    [{ key: peopleKeys.list(query), load: () => listPeople(actor, query) }],
    <PeopleList query={query} />,
  );
}
