import { BeginSecondFactor } from '@/components/people/second-factor-forms';
import { ListHead } from '@/components/ui/page-head';
import { hasSecondFactor } from '@/lib/people/second-factor';
import { personOf } from '@/lib/platform/actor';
import { requireActor, titled } from '@/lib/platform/page';
import { say } from '@/lib/platform/words/say';

export const generateMetadata = titled('Second factor');

export default async function SecondFactorPage() {
  const actor = await requireActor('workspace.enter');
  return (
    <>
      <ListHead title={say('Second factor')} />
      {(await hasSecondFactor(personOf(actor))) ? (
        <p>
          {say(
            'Sign-in asks you for the code of your app. If the phone is lost, use a recovery code, or ask an administrator to reset it.',
          )}
        </p>
      ) : (
        <BeginSecondFactor />
      )}
    </>
  );
}
