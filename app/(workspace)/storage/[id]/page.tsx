import { notFound } from 'next/navigation';
import { storageKeys } from '@/components/storage/queries';
import { UnitRecord } from '@/components/storage/unit-record';
import { orNull, type RecordParams, readId, requireActor, titled, withQueries } from '@/lib/platform/page';
import { showUnit } from '@/lib/storage/service/tree';

export const generateMetadata = titled('Place in the store');

export default async function UnitPage({ params }: { params: RecordParams }) {
  const actor = await requireActor('storage.see');
  const id = await readId(params);
  const record = await orNull(showUnit(actor, id));
  if (record === null) notFound();
  return withQueries([{ key: storageKeys.unit(id), load: async () => record }], <UnitRecord id={id} />);
}
