import { notFound } from 'next/navigation';
import { BenchRecord } from '@/components/bench/bench-record';
import { benchKeys } from '@/components/bench/keys';
import { showRecord } from '@/lib/bench/service/records';
import { personOf } from '@/lib/platform/actor';
import { orNull, type RecordParams, readId, requireActor, titled, withQueries } from '@/lib/platform/page';

export const generateMetadata = titled('Bench record');

export default async function BenchRecordPage({ params }: { params: RecordParams }) {
  const actor = await requireActor('bench.see');
  const id = await readId(params);
  const record = await orNull(showRecord(actor, id));
  if (record === null) notFound();
  return withQueries(
    [{ key: benchKeys.record(id), load: async () => record }],
    <BenchRecord id={id} me={{ id: personOf(actor), name: actor.name }} />,
  );
}
