import { Link } from '@/components/ui/link';
import { PlainPage } from '@/components/ui/plain-page';
import { titled } from '@/lib/platform/page';
import { say } from '@/lib/platform/words/say';

export const generateMetadata = titled('Not open to your roles');

export default function Forbidden() {
  return (
    <PlainPage
      title={say('Not open to your roles')}
      lede={
        <p>
          {say(
            'You are signed in, but this page needs a right your roles do not give. An administrator can change that.',
          )}
        </p>
      }
    >
      <Link href="/">{say('Go to your first page')}</Link>
    </PlainPage>
  );
}
