import { queryOptions, useMutation, useQueryClient } from '@tanstack/react-query';
import { callApi, queryString } from '@/lib/platform/api';
import { type SlipRow, slipMade, slipPage, slipRow } from '@/lib/salvage/wire-slip';
import { salvageKeys } from './queries';

export const slipsOptions = (query: { size?: number; after?: string }) =>
  queryOptions({
    queryKey: salvageKeys.slips(query),
    queryFn: ({ signal }) => callApi(`/api/salvage/slips${queryString(query)}`, { schema: slipPage, signal }),
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

function useSlipMutation<T extends SlipRow>(call: (input: string) => Promise<T>) {
  const queries = useQueryClient();
  return useMutation({
    mutationFn: call,
    onSuccess: () => queries.invalidateQueries({ queryKey: ['salvage', 'slips'] }),
  });
}
