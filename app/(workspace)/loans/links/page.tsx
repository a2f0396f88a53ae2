import { LinkList } from '@/components/loans/link-list';
import { loanKeys } from '@/components/loans/queries';
import { listLinks } from '@/lib/loans/service/links';
import { readListQuery, requireActor, type SearchParams, titled, withQueries } from '@/lib/platform/page';
import { pageQuery } from '@/lib/platform/paging';

export const generateMetadata = titled('Links for borrowers');

export default async function LoanLinksPage({ searchParams }: { searchParams: SearchParams }) {
  const actor = await requireActor('loans.ask');
  const query = await readListQuery(pageQuery, searchParams);
  return withQueries(
    [{ key: loanKeys.links(query), load: () => listLinks(actor, query) }],
    <LinkList query={query} />,
  );
}
