'use client';

import { ErrorState } from '@/components/ui/error-state';
import { PlainPage } from '@/components/ui/plain-page';
import { say } from '@/lib/platform/words/say';

export default function PageError({
  error,
  reset,
}: {
  error: Error & { digest?: string };
  reset: () => void;
}) {
  return (
    <PlainPage title={say('This page stopped')} wide>
      <ErrorState
        what={say('Something in Furcula failed while this page was made.')}
        kept={say('What was saved before is kept.')}
        error={error}
        onRetry={reset}
      />
    </PlainPage>
  );
}
