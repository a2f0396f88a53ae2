import { notFound } from 'next/navigation';
import { taxaKeys } from '@/components/taxa/queries';
import { TaxonPage } from '@/components/taxa/taxon-page';
import { orNull, type RecordParams, readId, requireActor, titled, withQueries } from '@/lib/platform/page';
import { showTaxon } from '@/lib/taxa/service/taxa';

export const generateMetadata = titled('Taxon');

export default async function OneTaxonPage({ params }: { params: RecordParams }) {
  const actor = await requireActor('taxa.see');
  const id = await readId(params);
  const record = await orNull(showTaxon(actor, id));
  if (record === null) notFound();
  return withQueries([{ key: taxaKeys.record(id), load: async () => record }], <TaxonPage id={id} />);
}
