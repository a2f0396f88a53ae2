import { queryOptions, useMutation, useQueryClient } from '@tanstack/react-query';
import { callApi, queryString } from '@/lib/platform/api';
import type { AdvanceSkinsRequest, SkinListQuery } from '@/lib/skins/schema';
import { movedMaterials, processGroups } from '@/lib/storage/schema';

export const skinKeys = {
  all: ['skins'] as const,
  list: (query: Partial<SkinListQuery>) => ['skins', 'list', query] as const,
};

export const skinListOptions = (query: Partial<SkinListQuery>) =>
  queryOptions({
    queryKey: skinKeys.list(query),
    queryFn: ({ signal }) => callApi(`/api/skins${queryString(query)}`, { schema: processGroups, signal }),
    placeholderData: (previous) => previous,
  });

export function useAdvanceSkins() {
  const queries = useQueryClient();
  return useMutation({
    mutationFn: (body: AdvanceSkinsRequest) =>
      callApi('/api/skins/advance', { method: 'POST', body, schema: movedMaterials }),
    // Also after a refusal: somebody else may have been quicker, and the list should show it.
    onSettled: () =>
      Promise.all([
        queries.invalidateQueries({ queryKey: skinKeys.all }),
        queries.invalidateQueries({ queryKey: ['storage'] }),
      ]),
  });
}
