import { queryOptions, useMutation, useQueryClient } from '@tanstack/react-query';
import { callApi } from '@/lib/platform/api';
import { salvageRecord } from '@/lib/salvage/wire';
import type { SalvageListQuery } from '@/lib/salvage/wire-list';

export const salvageKeys = {
  all: ['salvage'] as const,
  list: (query: Partial<SalvageListQuery>) => ['salvage', 'list', query] as const,
  record: (id: string) => ['salvage', 'record', id] as const,
  slips: (query: { size?: number; after?: string }) => ['salvage', 'slips', query] as const,
};

export const findOptions = (id: string) =>
  queryOptions({
    queryKey: salvageKeys.record(id),
    queryFn: ({ signal }) => callApi(`/api/salvage/${id}`, { schema: salvageRecord, signal }),
  });

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
