import { notFound } from 'next/navigation';
import { PersonPage } from '@/components/people/person-page';
import { peopleKeys } from '@/components/people/queries';
import { showPerson } from '@/lib/people/service';
import { orNull, type RecordParams, readId, requireActor, titled, withQueries } from '@/lib/platform/page';

export const generateMetadata = titled('Person');

export default async function PersonRoute({ params }: { params: RecordParams }) {
  const actor = await requireActor('people.manage');
  const id = await readId(params);
  const record = await orNull(showPerson(actor, id));
  if (record === null) notFound();
  return withQueries([{ key: peopleKeys.record(id), load: async () => record }], <PersonPage id={id} />);
}
