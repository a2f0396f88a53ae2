import { CatalogueList } from '@/components/catalogue/catalogue-list';
import { catalogueKeys } from '@/components/catalogue/query-keys';
import { searchQuery } from '@/lib/catalogue/search-wire';
import { describeSearch, searchCatalogue } from '@/lib/catalogue/service/search';
import { listViews } from '@/lib/catalogue/service/views';
import { readListQuery, requireActor, type SearchParams, titled, withQueries } from '@/lib/platform/page';
import { may } from '@/lib/platform/permissions';

export const generateMetadata = titled('Catalogue');

export default async function CataloguePage({ searchParams }: { searchParams: SearchParams }) {
  const actor = await requireActor('catalogue.see');
  const query = await readListQuery(searchQuery, searchParams);
  return withQueries(
    [
      { key: catalogueKeys.search(query), load: () => searchCatalogue(actor, query) },
      { key: catalogueKeys.views, load: () => listViews(actor) },
    ],
    <CatalogueList
      query={query}
      reading={await describeSearch(actor)}
      may={{
        review: may(actor, 'bench.review'),
        numbers: may(actor, 'numbers.see'),
        bulk: {
          export: may(actor, 'exports.make'),
          follow: may(actor, 'comments.see'),
          labels: may(actor, 'labels.print'),
          loan: may(actor, 'loans.ask'),
          determine: may(actor, 'catalogue.amend'),
        },
      }}
    />,
  );
}
