import { SetUpForm } from '@/components/people/set-up-form';
import { PlainPage } from '@/components/ui/plain-page';
import { describeLink } from '@/lib/people/links';
import { orNull } from '@/lib/platform/page';

export const metadata = { title: 'Set up your account' };
export const dynamic = 'force-dynamic';

export default async function SetUpPage({ params }: { params: Promise<{ token: string }> }) {
  const { token } = await params;
  const link = await orNull(describeLink(token));
  if (link === null) {
    return (
      <PlainPage
        title="This link has ended"
        lede={<p>It was used already, or its time is over. Ask an administrator for a new one.</p>}
      />
    );
  }
  const founding = link.purpose === 'first-administrator';
  return (
    <PlainPage
      title={founding ? 'Found your collection' : `Welcome, ${link.name ?? 'colleague'}`}
      lede={
        <p>
          {founding
            ? 'You become the first administrator and invite the others.'
            : 'Choose your password; this link works once.'}
        </p>
      }
    >
      <SetUpForm token={token} purpose={link.purpose} zones={Intl.supportedValuesOf('timeZone')} />
    </PlainPage>
  );
}
