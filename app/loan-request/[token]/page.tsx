import { LoanRequestForm } from '@/components/loans/loan-request-form';
import { RequestState } from '@/components/loans/request-state';
import { PlainPage } from '@/components/ui/plain-page';
import { openLink } from '@/lib/loans/service/links';
import { orNull } from '@/lib/platform/page';

export const metadata = { title: 'A loan request', robots: { index: false }, referrer: 'no-referrer' };
export const dynamic = 'force-dynamic';

export default async function LoanRequestPage({ params }: { params: Promise<{ token: string }> }) {
  const { token } = await params;
  const link = await orNull(openLink(token));
  if (link === null)
    return (
      <PlainPage
        title="This link opens nothing"
        lede={<p>It has ended, or was never good. Write to whoever sent it to you.</p>}
      />
    );
  return (
    <PlainPage
      title={link.state === null ? 'Ask for a loan' : 'Your request'}
      lede={<p>{link.institution}</p>}
    >
      {link.state === null ? <LoanRequestForm token={token} /> : <RequestState state={link.state} />}
    </PlainPage>
  );
}
