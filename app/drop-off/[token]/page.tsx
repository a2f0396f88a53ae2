import { DropOffForm } from '@/components/salvage/drop-off-form';
import { CautionCard } from '@/components/ui/caution-card';
import { PlainPage } from '@/components/ui/plain-page';
import { orNull } from '@/lib/platform/page';
import { openSlip } from '@/lib/salvage/service/slips';

export const metadata = { title: 'A found bird', robots: { index: false } };
export const dynamic = 'force-dynamic';

export default async function DropOffPage({ params }: { params: Promise<{ token: string }> }) {
  const { token } = await params;
  const slip = await orNull(openSlip(token));
  if (slip === null) {
    return (
      <PlainPage
        title="This slip is no longer in use"
        lede={<p>Fill in the paper and put it into the bag with the bird, or ask at the desk.</p>}
      />
    );
  }
  return (
    <PlainPage
      title="A dead bird you found"
      lede={<p>For {slip.institution}. A few questions, two minutes.</p>}
    >
      <CautionCard title="Before you touch it" source="common practice">
        <p>
          No bare hands; wash them afterwards. Several dead birds together, an eagle, or a bird that looked
          ill: leave it there and tell us. A living bird needs a licensed carer, not a freezer.
        </p>
      </CautionCard>
      <DropOffForm token={token} today={slip.today} />
    </PlainPage>
  );
}
