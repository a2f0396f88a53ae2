import { queryOptions, useMutation, useQueryClient } from '@tanstack/react-query';
import {
  chartsAnswer,
  type MapQuery,
  mapAnswer,
  type NumbersQuery,
  numbersAnswer,
} from '@/lib/catalogue/figures-wire';
import type {
  AmendRequest,
  ApproveRequest,
  DeaccessionRequest,
  DeterminationRequest,
  DetermineBirdsRequest,
  ReturnWithRemarks,
  SaveViewRequest,
} from '@/lib/catalogue/schema';
import { findAnswer, type SearchQuery, searchAnswer } from '@/lib/catalogue/search-wire';
import { approvedAnswer, catalogueRecord, reviewPage, reviewRecord, savedViews } from '@/lib/catalogue/wire';
import type { FollowBirdsRequest } from '@/lib/notices/schema';
import { callApi, queryString } from '@/lib/platform/api';
import { bulkAnswer } from '@/lib/platform/bulk-wire';
import type { PageQuery } from '@/lib/platform/paging';
import { taxonChoices } from '@/lib/taxa/schema';

export const catalogueKeys = {
  all: ['catalogue'] as const,
  search: (query: SearchQuery) => ['catalogue', 'search', query] as const,
  find: (q: string) => ['catalogue', 'find', q] as const,
  map: (query: MapQuery) => ['catalogue', 'map', query] as const,
  charts: (q: string) => ['catalogue', 'charts', q] as const,
  // Numbers of the whole lab: what comes in, is queued or prepared changes them, too.
  numbers: (query: NumbersQuery) => ['catalogue', 'numbers', 'salvage', 'queue', 'bench', query] as const,
  views: ['catalogue', 'views'] as const,
  record: (birdId: string) => ['catalogue', 'record', birdId] as const,
  // The bench and the bone book change what the desk shows, too: their stages' words are in the key.
  review: (query: PageQuery) => ['catalogue', 'review', 'bench', query] as const,
  reviewRecord: (id: string) => ['catalogue', 'review', 'bench', 'skeletons', 'tissues', id] as const,
};

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

export const taxonOptions = (q: string) =>
  queryOptions({
    queryKey: ['taxa', 'search', q],
    queryFn: ({ signal }) =>
      callApi(`/api/taxa/search${queryString({ q })}`, { schema: taxonChoices, signal }),
    enabled: q.length >= 3,
    placeholderData: (previous) => previous,
  });

export const sheetOptions = (birdId: string) =>
  queryOptions({
    queryKey: catalogueKeys.record(birdId),
    queryFn: ({ signal }) => callApi(`/api/catalogue/${birdId}`, { schema: catalogueRecord, signal }),
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

type SheetChange =
  | { act: 'amend'; body: AmendRequest }
  | { act: 'determine'; body: DeterminationRequest }
  | { act: 'deaccession'; body: DeaccessionRequest };

/** A change of a catalogued bird; the answer is the sheet as it then is. */
export function useSheetChange(birdId: string) {
  const queries = useQueryClient();
  return useMutation({
    mutationFn: ({ act, body }: SheetChange) =>
      callApi(`/api/catalogue/${birdId}/${act}`, { method: 'POST', body, schema: catalogueRecord }),
    onSuccess: (record) => queries.setQueryData(catalogueKeys.record(birdId), record),
  });
}

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
