import { LoanRequestForm } from '@/components/loans/loan-request-form';
import { RequestState } from '@/components/loans/request-state';
import { PlainPage } from '@/components/ui/plain-page';
import { openLink } from '@/lib/loans/service/links';
import { orNull, titled } from '@/lib/platform/page';
import { settlePageLanguage } from '@/lib/platform/words/request-language';
import { say } from '@/lib/platform/words/say';

export const generateMetadata = titled('A loan request', {
  robots: { index: false },
  referrer: 'no-referrer',
});
export const dynamic = 'force-dynamic';

export default async function LoanRequestPage({ params }: { params: Promise<{ token: string }> }) {
  await settlePageLanguage();
  const { token } = await params;
  const link = await orNull(openLink(token));
  if (link === null)
    return (
      <PlainPage
        title={say('This link opens nothing')}
        lede={<p>{say('It has ended, or was never good. Write to whoever sent it to you.')}</p>}
      />
    );
  return (
    <PlainPage
      title={link.state === null ? say('Ask for a loan') : say('Your request')}
      lede={<p>{link.institution}</p>}
    >
      {link.state === null ? <LoanRequestForm token={token} /> : <RequestState state={link.state} />}
    </PlainPage>
  );
}
