import { BeginSecondFactor } from '@/components/people/second-factor-forms';
import { ListHead } from '@/components/ui/page-head';
import { hasSecondFactor } from '@/lib/people/second-factor';
import { personOf } from '@/lib/platform/actor';
import { requireActor } from '@/lib/platform/page';

export const metadata = { title: 'Second factor' };

export default async function SecondFactorPage() {
  const actor = await requireActor('workspace.enter');
  return (
    <>
      <ListHead title="Second factor" />
      {(await hasSecondFactor(personOf(actor))) ? (
        <p>
          Sign-in asks you for the code of your app. If the phone is lost, use a recovery code, or ask an
          administrator to reset it.
        </p>
      ) : (
        <BeginSecondFactor />
      )}
    </>
  );
}
