import { notFound } from 'next/navigation';
import { LoanRecord } from '@/components/loans/loan-record';
import { loanKeys } from '@/components/loans/queries';
import { showLoan } from '@/lib/loans/service/ask';
import { orNull, type RecordParams, readId, requireActor, titled, withQueries } from '@/lib/platform/page';

export const generateMetadata = titled('Loan');

export default async function LoanPage({ params }: { params: RecordParams }) {
  const actor = await requireActor('loans.see');
  const id = await readId(params);
  const record = await orNull(showLoan(actor, id));
  if (record === null) notFound();
  return withQueries([{ key: loanKeys.record(id), load: async () => record }], <LoanRecord id={id} />);
}
