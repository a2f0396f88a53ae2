import { SetUpForm } from '@/components/people/set-up-form';
import { PlainPage } from '@/components/ui/plain-page';
import { describeLink } from '@/lib/people/links';
import { orNull, titled } from '@/lib/platform/page';
import { settlePageLanguage } from '@/lib/platform/words/request-language';
import { say } from '@/lib/platform/words/say';

export const generateMetadata = titled('Set up your account');
export const dynamic = 'force-dynamic';

export default async function SetUpPage({ params }: { params: Promise<{ token: string }> }) {
  await settlePageLanguage();
  const { token } = await params;
  const link = await orNull(describeLink(token));
  if (link === null) {
    return (
      <PlainPage
        title={say('This link has ended')}
        lede={<p>{say('It was used already, or its time is over. Ask an administrator for a new one.')}</p>}
      />
    );
  }
  const founding = link.purpose === 'first-administrator';
  return (
    <PlainPage
      title={
        founding ? say('Found your collection') : say('Welcome, {name}', { name: link.name ?? 'colleague' })
      }
      lede={
        <p>
          {founding
            ? say('You become the first administrator and invite the others.')
            : say('Choose your password; this link works once.')}
        </p>
      }
    >
      <SetUpForm token={token} purpose={link.purpose} zones={Intl.supportedValuesOf('timeZone')} />
    </PlainPage>
  );
}
