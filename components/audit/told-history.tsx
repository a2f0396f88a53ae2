'use client';

import { useInfiniteQuery } from '@tanstack/react-query';
import type { ReactNode } from 'react';
import { HistoryStory } from '@/components/ui/history-story';
import type { HistoryEvent } from '@/lib/audit/schema';
import { type HistorySubject, historyOptions } from './queries';
import { sayChanges, sayEvent } from './words';

/** A record's history, newest first: who did what, when and why, with field differences. */
export function ToldHistory({
  subject,
  actOf,
}: {
  subject: HistorySubject;
  /** What one may do about an event, beside it. */
  actOf?: (event: HistoryEvent) => ReactNode;
}) {
  const history = useInfiniteQuery(historyOptions(subject));
  const events = history.data?.pages
    .flatMap((page) => page.rows)
    .map((event) => ({
      id: event.id,
      at: event.at,
      who: event.actorName,
      did: sayEvent(event),
      why: event.reason,
      changes: sayChanges(event),
      act: actOf?.(event),
    }));
  return (
    <HistoryStory
      events={events}
      loading={history.isPending}
      error={history.error}
      onRetry={() => void history.refetch()}
      onMore={history.hasNextPage ? () => void history.fetchNextPage() : undefined}
      loadingMore={history.isFetchingNextPage}
    />
  );
}
