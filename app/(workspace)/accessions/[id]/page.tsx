import { notFound } from 'next/navigation';
import { AccessionRecord } from '@/components/accessions/accession-record';
import { accessionKeys } from '@/components/accessions/queries';
import { showAccession } from '@/lib/accessions/service';
import { orNull, type RecordParams, readId, requireActor, titled, withQueries } from '@/lib/platform/page';

export const generateMetadata = titled('Accession');

export default async function AccessionPage({ params }: { params: RecordParams }) {
  const actor = await requireActor('accessions.see');
  const id = await readId(params);
  const record = await orNull(showAccession(actor, id));
  if (record === null) notFound();
  return withQueries(
    [{ key: accessionKeys.record(id), load: async () => record }],
    <AccessionRecord id={id} />,
  );
}
