import { queryOptions, useMutation, useQueryClient } from '@tanstack/react-query';
import type { z } from 'zod';
import { callApi, queryString } from '@/lib/platform/api';
import type { ReportFindRequest } from '@/lib/salvage/schema';
import {
  finderAnswer,
  finderExport,
  type PlaceCheckQuery,
  placeCheckAnswer,
  type SalvageListQuery,
  salvagePage,
  salvageRecord,
  slipMade,
  slipPage,
  slipRow,
} from '@/lib/salvage/wire';

export const salvageKeys = {
  all: ['salvage'] as const,
  list: (query: Partial<SalvageListQuery>) => ['salvage', 'list', query] as const,
  record: (id: string) => ['salvage', 'record', id] as const,
  slips: (query: { size?: number; after?: string }) => ['salvage', 'slips', query] as const,
};

export const findListOptions = (query: Partial<SalvageListQuery>) =>
  queryOptions({
    queryKey: salvageKeys.list(query),
    queryFn: ({ signal }) => callApi(`/api/salvage${queryString(query)}`, { schema: salvagePage, signal }),
    placeholderData: (previous) => previous,
  });

export const findOptions = (id: string) =>
  queryOptions({
    queryKey: salvageKeys.record(id),
    queryFn: ({ signal }) => callApi(`/api/salvage/${id}`, { schema: salvageRecord, signal }),
  });

export const slipsOptions = (query: { size?: number; after?: string }) =>
  queryOptions({
    queryKey: salvageKeys.slips(query),
    queryFn: ({ signal }) => callApi(`/api/salvage/slips${queryString(query)}`, { schema: slipPage, signal }),
  });

/** Sends a report; its own key makes a repeated delivery harmless. */
export const sendReport = (report: ReportFindRequest) =>
  callApi('/api/salvage', {
    method: 'POST',
    body: report,
    schema: salvageRecord,
    idempotencyKey: report.requestKey,
  });

export const checkPlaceOnce = (query: PlaceCheckQuery) =>
  callApi(`/api/salvage/place-check${queryString(query)}`, { schema: placeCheckAnswer });

/** An act on one record, by the end of its address: 'triage', 'holds/<id>/lift', … */
export function useFindAct(id: string) {
  const queries = useQueryClient();
  return useMutation({
    mutationFn: ({ act, body }: { act: string; body: object }) =>
      callApi(`/api/salvage/${id}/${act}`, { method: 'POST', body, schema: salvageRecord }),
    onSuccess: (record) => {
      queries.setQueryData(salvageKeys.record(id), record);
      return queries.invalidateQueries({ queryKey: ['salvage', 'list'] });
    },
  });
}

export type FindAct = ReturnType<typeof useFindAct>;

export function useLookUpFinder(id: string) {
  return useMutation({
    mutationFn: () =>
      callApi(`/api/salvage/${id}/finder`, { method: 'POST', body: {}, schema: finderAnswer }),
  });
}

export const useExportFinder = (id: string) =>
  useMutation({
    mutationFn: () =>
      callApi(`/api/salvage/${id}/finder/export`, { method: 'POST', body: {}, schema: finderExport }),
  });

export function useMakeSlip() {
  return useSlipMutation((label: string) =>
    callApi('/api/salvage/slips', { method: 'POST', body: { label }, schema: slipMade }),
  );
}

export function useEndSlip() {
  return useSlipMutation((id: string) =>
    callApi(`/api/salvage/slips/${id}/end`, { method: 'POST', body: {}, schema: slipRow }),
  );
}

function useSlipMutation<T extends z.infer<typeof slipRow>>(call: (input: string) => Promise<T>) {
  const queries = useQueryClient();
  return useMutation({
    mutationFn: call,
    onSuccess: () => queries.invalidateQueries({ queryKey: ['salvage', 'slips'] }),
  });
}
