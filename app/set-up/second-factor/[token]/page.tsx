import { toSVG } from 'bwip-js/node';
import { ConfirmSecondFactor } from '@/components/people/second-factor-forms';
import { PlainPage } from '@/components/ui/plain-page';
import { describeEnrolment } from '@/lib/people/second-factor';
import { orNull } from '@/lib/platform/page';

export const metadata = { title: 'Set up a second factor' };
export const dynamic = 'force-dynamic';

export default async function SecondFactorSetUpPage({ params }: { params: Promise<{ token: string }> }) {
  const { token } = await params;
  const enrolment = await orNull(describeEnrolment(token));
  if (enrolment === null) {
    return (
      <PlainPage
        title="This link has ended"
        lede={<p>It was used already, or its quarter of an hour is over. Sign in again to get a new one.</p>}
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
      title="Set up a second factor"
      lede={
        <p>
          {enrolment.name}, scan this with an authenticator app on your phone. From now on sign-in asks for
          the code that the app shows.
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
