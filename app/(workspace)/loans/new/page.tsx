import { LoanForm } from '@/components/loans/loan-form';
import { loanKeys } from '@/components/loans/queries';
import { listBorrowers } from '@/lib/loans/service/ask';
import { dayIn, now } from '@/lib/platform/clock';
import { requireActor, withQueries } from '@/lib/platform/page';

export const metadata = { title: 'New loan' };

export default async function NewLoanPage() {
  const actor = await requireActor('loans.ask');
  return withQueries(
    [{ key: loanKeys.borrowers, load: () => listBorrowers(actor) }],
    <LoanForm today={dayIn('UTC', now())} />,
  );
}
