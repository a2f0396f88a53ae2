import { DropOffForm } from '@/components/salvage/drop-off-form';
import { CautionCard } from '@/components/ui/caution-card';
import { PlainPage } from '@/components/ui/plain-page';
import { orNull, titled } from '@/lib/platform/page';
import { settlePageLanguage } from '@/lib/platform/words/request-language';
import { say } from '@/lib/platform/words/say';
import { openSlip } from '@/lib/salvage/service/slips';

export const generateMetadata = titled('A found bird', { robots: { index: false } });
export const dynamic = 'force-dynamic';

export default async function DropOffPage({ params }: { params: Promise<{ token: string }> }) {
  await settlePageLanguage();
  const { token } = await params;
  const slip = await orNull(openSlip(token));
  if (slip === null) {
    return (
      <PlainPage
        title={say('This slip is no longer in use')}
        lede={<p>{say('Fill in the paper and put it into the bag with the bird, or ask at the desk.')}</p>}
      />
    );
  }
  return (
    <PlainPage
      title={say('A dead bird you found')}
      lede={
        <p>{say('For {institution}. A few questions, two minutes.', { institution: slip.institution })}</p>
      }
    >
      <CautionCard title={say('Before you touch it')} source={say('common practice')}>
        <p>
          {say(
            'No bare hands; wash them afterwards. Several dead birds together, an eagle, or a bird that looked ill: leave it there and tell us. A living bird needs a licensed carer, not a freezer.',
          )}
        </p>
      </CautionCard>
      <DropOffForm token={token} today={slip.today} />
    </PlainPage>
  );
}
