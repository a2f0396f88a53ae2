import { redirect } from 'next/navigation';
import { SignInForm } from '@/components/sign-in/sign-in-form';
import { PlainPage } from '@/components/ui/plain-page';
import { settings } from '@/lib/platform/env';
import { DEMO_PASSWORD, DEMO_PEOPLE } from '@/lib/platform/identity/demo';
import { currentActor } from '@/lib/platform/identity/session';
import { titled } from '@/lib/platform/page';
import { paths } from '@/lib/platform/paths';
import { settlePageLanguage } from '@/lib/platform/words/request-language';
import { say } from '@/lib/platform/words/say';

export const generateMetadata = titled('Sign in');

export default async function SignInPage() {
  await settlePageLanguage();
  if ((await currentActor()) !== null) redirect(paths.home);
  const { FURCULA_DEMO, OIDC_ISSUER, OIDC_NAME } = settings();
  return (
    <PlainPage title={say('Sign in')} lede={<p>{say('Every salvaged bird accounted for.')}</p>}>
      <SignInForm
        institution={OIDC_ISSUER === undefined ? null : OIDC_NAME}
        demo={FURCULA_DEMO ? { people: [...DEMO_PEOPLE], password: DEMO_PASSWORD } : null}
      />
    </PlainPage>
  );
}
