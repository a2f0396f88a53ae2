import { notFound } from 'next/navigation';
import { CountDesk } from '@/components/storage/count-desk';
import { storageKeys } from '@/components/storage/queries';
import { orNull, type RecordParams, readId, requireActor, titled, withQueries } from '@/lib/platform/page';
import { showCount } from '@/lib/storage/service/inventory';

export const generateMetadata = titled('Count');

export default async function CountPage({ params }: { params: RecordParams }) {
  const actor = await requireActor('storage.see');
  const id = await readId(params);
  const record = await orNull(showCount(actor, id));
  if (record === null) notFound();
  return withQueries([{ key: storageKeys.count(id), load: async () => record }], <CountDesk id={id} />);
}
