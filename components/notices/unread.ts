import { queryOptions } from '@tanstack/react-query';
import { unreadCount } from '@/lib/notices/unread';
import { callApi } from '@/lib/platform/api';

/** Apart from the other queries of notices, because the head of every page asks this one. */
export const UNREAD_KEY = ['notices', 'count'] as const;

export const unreadOptions = () =>
  queryOptions({
    queryKey: UNREAD_KEY,
    queryFn: ({ signal }) => callApi('/api/notices/count', { schema: unreadCount, signal }),
  });
