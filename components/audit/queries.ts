import { infiniteQueryOptions } from '@tanstack/react-query';
import { historyPage } from '@/lib/audit/schema';
import { callApi, queryString } from '@/lib/platform/api';

export type HistorySubject = { subjectType: string; subjectId: string } | { birdId: string };

export const historyKeys = { of: (subject: HistorySubject) => ['history', subject] as const };

export const historyOptions = (subject: HistorySubject) =>
  infiniteQueryOptions({
    queryKey: historyKeys.of(subject),
    initialPageParam: undefined as string | undefined,
    queryFn: ({ pageParam, signal }) =>
      callApi(`/api/history${queryString({ ...subject, after: pageParam, size: 20 })}`, {
        schema: historyPage,
        signal,
      }),
    getNextPageParam: (page) => page.next ?? undefined,
  });
