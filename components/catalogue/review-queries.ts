import { queryOptions, useMutation, useQueryClient } from '@tanstack/react-query';
import type { ApproveRequest, ReturnWithRemarks } from '@/lib/catalogue/schema';
import { approvedAnswer, reviewPage, reviewRecord } from '@/lib/catalogue/wire';
import { callApi, queryString } from '@/lib/platform/api';
import type { PageQuery } from '@/lib/platform/paging';
import { catalogueKeys } from './query-keys';

export const reviewListOptions = (query: PageQuery) =>
  queryOptions({
    queryKey: catalogueKeys.review(query),
    queryFn: ({ signal }) =>
      callApi(`/api/catalogue/review${queryString(query)}`, { schema: reviewPage, signal }),
    placeholderData: (previous) => previous,
  });

export const reviewOptions = (id: string) =>
  queryOptions({
    queryKey: catalogueKeys.reviewRecord(id),
    queryFn: ({ signal }) => callApi(`/api/catalogue/review/${id}`, { schema: reviewRecord, signal }),
  });

export function useApprove(id: string) {
  const queries = useQueryClient();
  return useMutation({
    mutationFn: (body: ApproveRequest) =>
      callApi(`/api/catalogue/review/${id}/approve`, { method: 'POST', body, schema: approvedAnswer }),
    // Also after a refusal: somebody else may have decided.
    onSettled: () => queries.invalidateQueries({ queryKey: catalogueKeys.all }),
  });
}

export function useReturn(id: string) {
  const queries = useQueryClient();
  return useMutation({
    mutationFn: (body: ReturnWithRemarks) =>
      callApi(`/api/catalogue/review/${id}/return`, { method: 'POST', body, schema: reviewRecord }),
    onSettled: () => queries.invalidateQueries({ queryKey: catalogueKeys.all }),
  });
}
