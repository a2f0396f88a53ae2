import { queryOptions } from '@tanstack/react-query';
import { waitingCounts } from '@/lib/desk/schema';
import { callApi } from '@/lib/platform/api';

export const deskKeys = { waiting: ['desk', 'waiting'] as const };

export const waitingOptions = () =>
  queryOptions({
    queryKey: deskKeys.waiting,
    queryFn: ({ signal }) => callApi('/api/desk/waiting', { schema: waitingCounts, signal }),
  });
