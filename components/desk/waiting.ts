import { queryOptions } from '@tanstack/react-query';
import { waitingCounts } from '@/lib/desk/stages';
import { callApi } from '@/lib/platform/api';

/** Apart from the desk's other queries, because the frame of every page asks this one. */
export const WAITING_KEY = ['desk', 'waiting'] as const;

export const waitingOptions = () =>
  queryOptions({
    queryKey: WAITING_KEY,
    queryFn: ({ signal }) => callApi('/api/desk/waiting', { schema: waitingCounts, signal }),
  });
