'use client';

import { ErrorState } from '@/components/ui/error-state';
import { say } from '@/lib/platform/words/say';

export default function WorkspaceError({
  error,
  reset,
}: {
  error: Error & { digest?: string };
  reset: () => void;
}) {
  return <ErrorState what={say('This page could not be shown.')} error={error} onRetry={reset} />;
}
