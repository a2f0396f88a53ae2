'use client';

import { ErrorState } from '@/components/ui/error-state';

export default function WorkspaceError({
  error,
  reset,
}: {
  error: Error & { digest?: string };
  reset: () => void;
}) {
  return <ErrorState what="This page could not be shown." error={error} onRetry={reset} />;
}
