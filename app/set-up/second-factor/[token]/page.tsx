import { toSVG } from 'bwip-js/node';
import { ConfirmSecondFactor } from '@/components/people/second-factor-forms';
import { PlainPage } from '@/components/ui/plain-page';
import { describeEnrolment } from '@/lib/people/second-factor';
import { orNull, titled } from '@/lib/platform/page';
import { settlePageLanguage } from '@/lib/platform/words/request-language';
import { say } from '@/lib/platform/words/say';

export const generateMetadata = titled('Set up a second factor');
export const dynamic = 'force-dynamic';

export default async function SecondFactorSetUpPage({ params }: { params: Promise<{ token: string }> }) {
  await settlePageLanguage();
  const { token } = await params;
  const enrolment = await orNull(describeEnrolment(token));
  if (enrolment === null) {
    return (
      <PlainPage
        title={say('This link has ended')}
        lede={
          <p>
            {say('It was used already, or its quarter of an hour is over. Sign in again to get a new one.')}
          </p>
        }
      />
    );
  }
  const svg = toSVG({
    bcid: 'qrcode',
    text: enrolment.address,
    scale: 4,
    padding: 4,
    backgroundcolor: 'ffffff',
  });
  return (
    <PlainPage
      title={say('Set up a second factor')}
      lede={
        <p>
          {say(
            '{name}, scan this with an authenticator app on your phone. From now on sign-in asks for the code that the app shows.',
            { name: enrolment.name },
          )}
        </p>
      }
    >
      <ConfirmSecondFactor
        token={token}
        secret={enrolment.secret}
        picture={`data:image/svg+xml;base64,${Buffer.from(svg).toString('base64')}`}
      />
    </PlainPage>
  );
}
