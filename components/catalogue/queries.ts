import { queryOptions, useMutation, useQueryClient } from '@tanstack/react-query';
import {
  chartsAnswer,
  type MapQuery,
  mapAnswer,
  type NumbersQuery,
  numbersAnswer,
} from '@/lib/catalogue/figures-wire';
import type { DetermineBirdsRequest, SaveViewRequest } from '@/lib/catalogue/schema';
import { findAnswer, type SearchQuery, searchAnswer } from '@/lib/catalogue/search-wire';
import { savedViews } from '@/lib/catalogue/wire';
import type { FollowBirdsRequest } from '@/lib/notices/schema';
import { callApi, queryString } from '@/lib/platform/api';
import { bulkAnswer } from '@/lib/platform/bulk-wire';
import { taxonChoices } from '@/lib/taxa/wire-choice';
import { catalogueKeys } from './query-keys';

export const searchOptions = (query: SearchQuery) =>
  queryOptions({
    queryKey: catalogueKeys.search(query),
    queryFn: ({ signal }) => callApi(`/api/catalogue${queryString(query)}`, { schema: searchAnswer, signal }),
    placeholderData: (previous) => previous,
  });

export const mapOptions = (query: MapQuery) =>
  queryOptions({
    queryKey: catalogueKeys.map(query),
    queryFn: ({ signal }) =>
      callApi(`/api/catalogue/map${queryString(query)}`, { schema: mapAnswer, signal }),
    placeholderData: (previous) => previous,
  });

export const chartsOptions = (q: string) =>
  queryOptions({
    queryKey: catalogueKeys.charts(q),
    queryFn: ({ signal }) =>
      callApi(`/api/catalogue/charts${queryString({ q })}`, { schema: chartsAnswer, signal }),
  });

export const numbersOptions = (query: NumbersQuery) =>
  queryOptions({
    queryKey: catalogueKeys.numbers(query),
    queryFn: ({ signal }) =>
      callApi(`/api/catalogue/numbers${queryString(query)}`, { schema: numbersAnswer, signal }),
    placeholderData: (previous) => previous,
  });

export const findOptions = (q: string) =>
  queryOptions({
    queryKey: catalogueKeys.find(q),
    queryFn: ({ signal }) =>
      callApi(`/api/catalogue/find${queryString({ q })}`, { schema: findAnswer, signal }),
    enabled: q.length >= 2,
    placeholderData: (previous) => previous,
  });

export const viewsOptions = () =>
  queryOptions({
    queryKey: catalogueKeys.views,
    queryFn: ({ signal }) => callApi('/api/catalogue/views', { schema: savedViews, signal }),
  });

export const taxonOptions = (q: string) =>
  queryOptions({
    queryKey: ['taxa', 'search', q],
    queryFn: ({ signal }) =>
      callApi(`/api/taxa/search${queryString({ q })}`, { schema: taxonChoices, signal }),
    enabled: q.length >= 3,
    placeholderData: (previous) => previous,
  });

export type BulkCommand =
  | { act: 'follow'; body: FollowBirdsRequest }
  | { act: 'determine'; body: DetermineBirdsRequest };

const BULK_ADDRESS = { follow: '/api/notices/follow/birds', determine: '/api/catalogue/determine' };

/** One act on several birds; the answer says what became of each. */
export function useBulkAct() {
  const queries = useQueryClient();
  return useMutation({
    mutationFn: ({ act, body }: BulkCommand) =>
      callApi(BULK_ADDRESS[act], { method: 'POST', body, schema: bulkAnswer }),
    onSettled: () => queries.invalidateQueries({ queryKey: catalogueKeys.all }),
  });
}

export function useKeepView() {
  const queries = useQueryClient();
  return useMutation({
    mutationFn: (body: SaveViewRequest) =>
      callApi('/api/catalogue/views', { method: 'POST', body, schema: savedViews }),
    onSuccess: (views) => queries.setQueryData(catalogueKeys.views, views),
  });
}

export function useDropView() {
  const queries = useQueryClient();
  return useMutation({
    mutationFn: (id: string) =>
      callApi(`/api/catalogue/views/${id}/remove`, { method: 'POST', body: {}, schema: savedViews }),
    onSuccess: (views) => queries.setQueryData(catalogueKeys.views, views),
  });
}
