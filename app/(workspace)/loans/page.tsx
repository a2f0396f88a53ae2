import { LoanList } from '@/components/loans/loan-list';
import { loanKeys } from '@/components/loans/queries';
import { listLoans } from '@/lib/loans/service/ask';
import { loanListQuery } from '@/lib/loans/wire';
import { readListQuery, requireActor, type SearchParams, titled, withQueries } from '@/lib/platform/page';
import { may } from '@/lib/platform/permissions';

export const generateMetadata = titled('Loans');

export default async function LoansPage({ searchParams }: { searchParams: SearchParams }) {
  const actor = await requireActor('loans.see');
  const query = await readListQuery(loanListQuery, searchParams);
  return withQueries(
    [{ key: loanKeys.list(query), load: () => listLoans(actor, query) }],
    <LoanList query={query} mayAsk={may(actor, 'loans.ask')} />,
  );
}
