import { notFound } from 'next/navigation';
import { catalogueKeys } from '@/components/catalogue/query-keys';
import { Sheet } from '@/components/catalogue/sheet';
import { showSheet } from '@/lib/catalogue/service/record';
import { orNull, type RecordParams, readId, requireActor, titled, withQueries } from '@/lib/platform/page';
import { may } from '@/lib/platform/permissions';

export const generateMetadata = titled('Specimen');

export default async function SpecimenPage({ params }: { params: RecordParams }) {
  const actor = await requireActor('catalogue.see');
  const id = await readId(params);
  const record = await orNull(showSheet(actor, id));
  if (record === null) notFound();
  return withQueries(
    [{ key: catalogueKeys.record(id), load: async () => record }],
    <Sheet birdId={id} linked={may(actor, 'salvage.see')} />,
  );
}
