import { z } from 'zod';
import { LoanForm } from '@/components/loans/loan-form';
import { loanKeys } from '@/components/loans/queries';
import { listBorrowers } from '@/lib/loans/service/ask';
import { dayIn, now } from '@/lib/platform/clock';
import { readListQuery, requireActor, type SearchParams, titled, withQueries } from '@/lib/platform/page';

export const generateMetadata = titled('New loan');

const newLoanQuery = z.object({ birds: z.string().max(4000).optional() });

export default async function NewLoanPage({ searchParams }: { searchParams: SearchParams }) {
  const actor = await requireActor('loans.ask');
  const { birds } = await readListQuery(newLoanQuery, searchParams);
  return withQueries(
    [{ key: loanKeys.borrowers, load: () => listBorrowers(actor) }],
    <LoanForm today={dayIn('UTC', now())} birds={birds} />,
  );
}
