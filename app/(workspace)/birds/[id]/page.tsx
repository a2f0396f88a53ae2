import { notFound } from 'next/navigation';
import { BirdRecord } from '@/components/desk/bird-record';
import { deskKeys } from '@/components/desk/queries';
import { showBird } from '@/lib/desk/bird';
import { orNull, type RecordParams, readId, requireActor, titled, withQueries } from '@/lib/platform/page';

export const generateMetadata = titled('Bird');

export default async function BirdPage({ params }: { params: RecordParams }) {
  const actor = await requireActor('salvage.see');
  const id = await readId(params);
  const record = await orNull(showBird(actor, id));
  if (record === null) notFound();
  return withQueries([{ key: deskKeys.bird(id), load: async () => record }], <BirdRecord id={id} />);
}
