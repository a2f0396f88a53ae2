import { queryOptions, useMutation, useQueryClient } from '@tanstack/react-query';
import { ApiProblem, callApi, problemSchema, queryString } from '@/lib/platform/api';
import {
  type ChecklistUpload,
  checklistRecord,
  checklistRow,
  checklistRows,
  familyList,
  type MakeCurrentRequest,
  type SensitivityChange,
  type TaxonListQuery,
  taxonPage,
  taxonRecord,
} from '@/lib/taxa/schema';

export const taxaKeys = {
  all: ['taxa'] as const,
  list: (query: Partial<TaxonListQuery>) => ['taxa', 'list', query] as const,
  families: ['taxa', 'families'] as const,
  record: (id: string) => ['taxa', 'record', id] as const,
  checklists: ['taxa', 'checklists'] as const,
  checklist: (id: string) => ['taxa', 'checklist', id] as const,
};

export const taxonListOptions = (query: Partial<TaxonListQuery>) =>
  queryOptions({
    queryKey: taxaKeys.list(query),
    queryFn: ({ signal }) => callApi(`/api/taxa${queryString(query)}`, { schema: taxonPage, signal }),
    placeholderData: (previous) => previous,
  });

export const familyOptions = () =>
  queryOptions({
    queryKey: taxaKeys.families,
    queryFn: ({ signal }) => callApi('/api/taxa/families', { schema: familyList, signal }),
    staleTime: 600_000,
  });

export const taxonOptions = (id: string) =>
  queryOptions({
    queryKey: taxaKeys.record(id),
    queryFn: ({ signal }) => callApi(`/api/taxa/${id}`, { schema: taxonRecord, signal }),
  });

const READING_MS = 1_500;

/** Editions; asked again while one is being read, so that its progress moves. */
export const checklistsOptions = () =>
  queryOptions({
    queryKey: taxaKeys.checklists,
    queryFn: ({ signal }) => callApi('/api/taxa/checklists', { schema: checklistRows, signal }),
    refetchInterval: ({ state }) =>
      state.data?.rows.some((row) => row.state === 'reading') ? READING_MS : false,
  });

export const checklistOptions = (id: string) =>
  queryOptions({
    queryKey: taxaKeys.checklist(id),
    queryFn: ({ signal }) => callApi(`/api/taxa/checklists/${id}`, { schema: checklistRecord, signal }),
    refetchInterval: ({ state }) => (state.data?.state === 'reading' ? READING_MS : false),
  });

export function useChangeSensitivity(id: string) {
  const queries = useQueryClient();
  return useMutation({
    mutationFn: (body: SensitivityChange) =>
      callApi(`/api/taxa/${id}/sensitivity`, { method: 'POST', body, schema: taxonRecord }),
    onSuccess: (record) => {
      queries.setQueryData(taxaKeys.record(id), record);
      return queries.invalidateQueries({ queryKey: ['taxa', 'list'] });
    },
  });
}

export function useMakeCurrent(id: string) {
  const queries = useQueryClient();
  return useMutation({
    mutationFn: (body: MakeCurrentRequest) =>
      callApi(`/api/taxa/checklists/${id}/make-current`, { method: 'POST', body, schema: checklistRecord }),
    onSuccess: (record) => {
      queries.setQueryData(taxaKeys.checklist(id), record);
      return queries.invalidateQueries({ queryKey: taxaKeys.all });
    },
  });
}

export function useHandInChecklist() {
  const queries = useQueryClient();
  return useMutation({
    mutationFn: async ({ file, ...words }: ChecklistUpload & { file: File }) => {
      const response = await fetch(`/api/taxa/checklists${queryString(words)}`, {
        method: 'POST',
        body: file,
      });
      const answer: unknown = await response.json();
      if (!response.ok) throw new ApiProblem(problemSchema.parse(answer));
      return checklistRow.parse(answer);
    },
    onSuccess: () => queries.invalidateQueries({ queryKey: taxaKeys.checklists }),
  });
}
