import { queryOptions, useMutation, useQueryClient } from '@tanstack/react-query';
import { type BenchListQuery, benchDesk, benchPage } from '@/lib/bench/wire-desk';
import { callApi, queryString } from '@/lib/platform/api';
import { benchKeys } from './keys';
import { answerOf } from './later-code';

export const benchDeskOptions = () =>
  queryOptions({
    queryKey: benchKeys.desk,
    queryFn: ({ signal }) => callApi('/api/bench/desk', { schema: benchDesk, signal }),
  });

export const benchListOptions = (query: Partial<BenchListQuery>) =>
  queryOptions({
    queryKey: benchKeys.list(query),
    queryFn: ({ signal }) =>
      callApi(`/api/bench${queryString({ ...query, states: query.states?.join(',') })}`, {
        schema: benchPage,
        signal,
      }),
    placeholderData: (previous) => previous,
  });

/** Starts the record of a claimed bird, or answers with the one it has. */
export function useStartRecord() {
  const queries = useQueryClient();
  return useMutation({
    mutationFn: (birdId: string) =>
      callApi('/api/bench', { method: 'POST', body: { birdId }, schema: answerOf('benchRecord') }),
    onSuccess: (record) => queries.setQueryData(benchKeys.record(record.id), record),
  });
}
