import { queryOptions, useMutation, useQueryClient } from '@tanstack/react-query';
import { type LabSettings, labSettings } from '@/lib/bench/wire-lab';
import { callApi } from '@/lib/platform/api';
import { benchKeys } from './keys';

export const labOptions = () =>
  queryOptions({
    queryKey: benchKeys.lab,
    queryFn: ({ signal }) => callApi('/api/bench/lab', { schema: labSettings, signal }),
  });

type LabAct = { method: 'PUT' | 'POST' | 'DELETE'; path: string; body: unknown };

/** Changes how the lab works; every one of these commands answers with the whole. */
export function useLabAct() {
  const queries = useQueryClient();
  return useMutation({
    mutationFn: ({ method, path, body }: LabAct): Promise<LabSettings> =>
      callApi(`/api/bench/lab${path}`, { method, body, schema: labSettings }),
    onSuccess: (lab) => queries.setQueryData(benchKeys.lab, lab),
  });
}
