import { Link } from '@/components/ui/link';
import { PlainPage } from '@/components/ui/plain-page';
import { titled } from '@/lib/platform/page';
import { say } from '@/lib/platform/words/say';

export const generateMetadata = titled('Not found');

export default function NotFound() {
  return (
    <PlainPage
      title={say('Nothing lies here')}
      lede={
        <p>
          {say(
            'The address may be mistyped, the record may have been removed, or it may not be open to your roles. Nothing was changed.',
          )}
        </p>
      }
    >
      <Link href="/">{say('Go to your first page')}</Link>
    </PlainPage>
  );
}
