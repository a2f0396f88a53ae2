import { notFound } from 'next/navigation';
import { tissueKeys } from '@/components/tissues/queries';
import { VialRecord } from '@/components/tissues/vial-record';
import { orNull, type RecordParams, readId, requireActor, titled, withQueries } from '@/lib/platform/page';
import { showVial } from '@/lib/tissues/service/list';

export const generateMetadata = titled('Vial');

export default async function VialPage({ params }: { params: RecordParams }) {
  const actor = await requireActor('tissues.see');
  const id = await readId(params);
  const record = await orNull(showVial(actor, id));
  if (record === null) notFound();
  return withQueries([{ key: tissueKeys.vial(id), load: async () => record }], <VialRecord id={id} />);
}
