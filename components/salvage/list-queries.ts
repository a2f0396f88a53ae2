import { queryOptions } from '@tanstack/react-query';
import { callApi, queryString } from '@/lib/platform/api';
import { type SalvageListQuery, salvagePage } from '@/lib/salvage/wire-list';
import { salvageKeys } from './queries';

export const findListOptions = (query: Partial<SalvageListQuery>) =>
  queryOptions({
    queryKey: salvageKeys.list(query),
    queryFn: ({ signal }) => callApi(`/api/salvage${queryString(query)}`, { schema: salvagePage, signal }),
    placeholderData: (previous) => previous,
  });
