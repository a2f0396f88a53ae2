import { notFound } from 'next/navigation';
import { FindRecord } from '@/components/salvage/find-record';
import { salvageKeys } from '@/components/salvage/queries';
import { orNull, type RecordParams, readId, requireActor, titled, withQueries } from '@/lib/platform/page';
import { showFind } from '@/lib/salvage/service/reading';

export const generateMetadata = titled('Found bird');

export default async function FindPage({ params }: { params: RecordParams }) {
  const actor = await requireActor('salvage.see');
  const id = await readId(params);
  const record = await orNull(showFind(actor, id));
  if (record === null) notFound();
  return withQueries([{ key: salvageKeys.record(id), load: async () => record }], <FindRecord id={id} />);
}
