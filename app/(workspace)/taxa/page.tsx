import { taxaKeys } from '@/components/taxa/queries';
import { TaxonList } from '@/components/taxa/taxon-list';
import { readListQuery, requireActor, type SearchParams, titled, withQueries } from '@/lib/platform/page';
import { taxonListQuery } from '@/lib/taxa/schema';
import { listChecklists } from '@/lib/taxa/service/checklists';
import { listFamilies, listTaxa } from '@/lib/taxa/service/taxa';

export const generateMetadata = titled('Taxa');

export default async function TaxaPage({ searchParams }: { searchParams: SearchParams }) {
  const actor = await requireActor('taxa.see');
  const query = await readListQuery(taxonListQuery, searchParams);
  return withQueries(
    [
      { key: taxaKeys.list(query), load: () => listTaxa(actor, query) },
      { key: taxaKeys.families, load: () => listFamilies(actor) },
      { key: taxaKeys.checklists, load: () => listChecklists(actor) },
    ],
    <TaxonList query={query} />,
  );
}
