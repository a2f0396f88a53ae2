import { queryOptions, useMutation, useQueryClient } from '@tanstack/react-query';
import { callApi, queryString } from '@/lib/platform/api';
import {
  type AdvanceSkeletonsRequest,
  boneBook,
  type ChooseProcedureRequest,
  procedureBook,
  type SaveBoxCountRequest,
  type SaveProceduresRequest,
  type SkeletonListQuery,
  skeletonDetail,
  skeletonGroups,
} from '@/lib/skeletons/schema';
import { movedMaterials } from '@/lib/storage/schema';

export const skeletonKeys = {
  all: ['skeletons'] as const,
  list: (query: Partial<SkeletonListQuery>) => ['skeletons', 'list', query] as const,
  detail: (id: string) => ['skeletons', 'detail', id] as const,
  procedures: ['skeletons', 'procedures'] as const,
  book: (birdId: string) => ['skeletons', 'book', birdId] as const,
};

export const skeletonListOptions = (query: Partial<SkeletonListQuery>) =>
  queryOptions({
    queryKey: skeletonKeys.list(query),
    queryFn: ({ signal }) =>
      callApi(`/api/skeletons${queryString(query)}`, { schema: skeletonGroups, signal }),
    placeholderData: (previous) => previous,
  });

export const skeletonOptions = (id: string) =>
  queryOptions({
    queryKey: skeletonKeys.detail(id),
    queryFn: ({ signal }) => callApi(`/api/skeletons/${id}`, { schema: skeletonDetail, signal }),
  });

export const boneBookOptions = (birdId: string) =>
  queryOptions({
    queryKey: skeletonKeys.book(birdId),
    queryFn: ({ signal }) => callApi(`/api/skeletons/bones/${birdId}`, { schema: boneBook, signal }),
  });

export const proceduresOptions = () =>
  queryOptions({
    queryKey: skeletonKeys.procedures,
    queryFn: ({ signal }) => callApi('/api/skeletons/procedures', { schema: procedureBook, signal }),
  });

export function useSaveProcedures() {
  const queries = useQueryClient();
  return useMutation({
    mutationFn: (body: SaveProceduresRequest) =>
      callApi('/api/skeletons/procedures', { method: 'POST', body, schema: procedureBook }),
    onSuccess: (book) => queries.setQueryData(skeletonKeys.procedures, book),
  });
}

/** What changes when skeletons move: their lists and pages, and the materials' own. */
function useRefresh() {
  const queries = useQueryClient();
  return () =>
    Promise.all([
      queries.invalidateQueries({ queryKey: skeletonKeys.all }),
      queries.invalidateQueries({ queryKey: ['storage'] }),
    ]);
}

/** Acts also refresh after a refusal: somebody else may have been quicker, and the page should show it. */
export function useAdvanceSkeletons() {
  const refresh = useRefresh();
  return useMutation({
    mutationFn: (body: AdvanceSkeletonsRequest) =>
      callApi('/api/skeletons/advance', { method: 'POST', body, schema: movedMaterials }),
    onSettled: refresh,
  });
}

export function useChooseProcedure() {
  const refresh = useRefresh();
  return useMutation({
    mutationFn: (body: ChooseProcedureRequest) =>
      callApi('/api/skeletons/procedure', { method: 'POST', body, schema: movedMaterials }),
    onSettled: refresh,
  });
}

export function useCountBox(id: string) {
  const refresh = useRefresh();
  return useMutation({
    mutationFn: (body: SaveBoxCountRequest) =>
      callApi(`/api/skeletons/${id}/count`, { method: 'POST', body, schema: skeletonDetail }),
    onSuccess: refresh,
  });
}

export function useAnswerQuestion() {
  const refresh = useRefresh();
  return useMutation({
    mutationFn: ({ id, answer }: { id: string; answer: string }) =>
      callApi(`/api/skeletons/questions/${id}/answer`, {
        method: 'POST',
        body: { answer },
        schema: skeletonDetail,
      }),
    onSettled: refresh,
  });
}
