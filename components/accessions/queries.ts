import { queryOptions, useMutation, useQueryClient } from '@tanstack/react-query';
import {
  type AccessionChange,
  type AccessionListQuery,
  type AccessionRequest,
  accessionPage,
  accessionRecord,
  candidatePage,
} from '@/lib/accessions/schema';
import { callApi, queryString } from '@/lib/platform/api';

export const accessionKeys = {
  all: ['accessions'] as const,
  list: (query: Partial<AccessionListQuery>) => ['accessions', 'list', query] as const,
  candidates: ['accessions', 'candidates'] as const,
  record: (id: string) => ['accessions', 'record', id] as const,
};

export const accessionListOptions = (query: Partial<AccessionListQuery>) =>
  queryOptions({
    queryKey: accessionKeys.list(query),
    queryFn: ({ signal }) =>
      callApi(`/api/accessions${queryString(query)}`, { schema: accessionPage, signal }),
    placeholderData: (previous) => previous,
  });

export const candidateOptions = () =>
  queryOptions({
    queryKey: accessionKeys.candidates,
    queryFn: ({ signal }) =>
      callApi('/api/accessions/candidates?size=200', { schema: candidatePage, signal }),
  });

export const accessionRecordOptions = (id: string) =>
  queryOptions({
    queryKey: accessionKeys.record(id),
    queryFn: ({ signal }) => callApi(`/api/accessions/${id}`, { schema: accessionRecord, signal }),
  });

export function useMakeAccession() {
  const queries = useQueryClient();
  return useMutation({
    mutationFn: ({ key, ...body }: AccessionRequest & { key: string }) =>
      callApi('/api/accessions', { method: 'POST', body, schema: accessionRecord, idempotencyKey: key }),
    onSuccess: (record) => {
      queries.setQueryData(accessionKeys.record(record.id), record);
      return queries.invalidateQueries({ queryKey: accessionKeys.all });
    },
  });
}

export function useChangeAccession(id: string) {
  const queries = useQueryClient();
  return useMutation({
    mutationFn: (body: AccessionChange) =>
      callApi(`/api/accessions/${id}/change`, { method: 'POST', body, schema: accessionRecord }),
    onSuccess: (record) => queries.setQueryData(accessionKeys.record(id), record),
  });
}
