'use client';

import { ErrorState } from '@/components/ui/error-state';
import { PlainPage } from '@/components/ui/plain-page';

export default function PageError({
  error,
  reset,
}: {
  error: Error & { digest?: string };
  reset: () => void;
}) {
  return (
    <PlainPage title="This page stopped" wide>
      <ErrorState
        what="Something in Furcula failed while this page was made."
        kept="What was saved before is kept."
        error={error}
        onRetry={reset}
      />
    </PlainPage>
  );
}
