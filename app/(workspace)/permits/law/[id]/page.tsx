import { notFound } from 'next/navigation';
import { PackRecord } from '@/components/permits/pack-record';
import { permitKeys } from '@/components/permits/queries';
import { showPack } from '@/lib/permits/service/rule-packs';
import { orNull, type RecordParams, readId, requireActor, titled, withQueries } from '@/lib/platform/page';

export const generateMetadata = titled('Rule pack');

export default async function RulePackPage({ params }: { params: RecordParams }) {
  const actor = await requireActor('permits.see');
  const id = await readId(params);
  const record = await orNull(showPack(actor, id));
  if (record === null) notFound();
  return withQueries([{ key: permitKeys.pack(id), load: async () => record }], <PackRecord id={id} />);
}
