import { queryOptions, useMutation, useQueryClient } from '@tanstack/react-query';
import type { z } from 'zod';
import { callApi, queryString } from '@/lib/platform/api';
import {
  birdVials,
  type ChangeVialRequest,
  type EndRequest,
  evacuationList,
  exposedVials,
  type FindRequest,
  type fillRequest,
  type SubSampleRequest,
  type UseRequest,
  type VialListQuery,
  vialPage,
  vialRecord,
} from '@/lib/tissues/wire';

export const tissueKeys = {
  all: ['tissues'] as const,
  list: (query: Partial<VialListQuery>) => ['tissues', 'list', query] as const,
  vial: (id: string) => ['tissues', 'vial', id] as const,
  bird: (birdId: string) => ['tissues', 'bird', birdId] as const,
  exposed: (logId: string) => ['tissues', 'exposed', logId] as const,
  evacuation: (unitId: string) => ['tissues', 'evacuation', unitId] as const,
};

export const vialListOptions = (query: Partial<VialListQuery>) =>
  queryOptions({
    queryKey: tissueKeys.list(query),
    queryFn: ({ signal }) => callApi(`/api/tissues${queryString(query)}`, { schema: vialPage, signal }),
    placeholderData: (previous) => previous,
  });

export const vialOptions = (id: string) =>
  queryOptions({
    queryKey: tissueKeys.vial(id),
    queryFn: ({ signal }) => callApi(`/api/tissues/${id}`, { schema: vialRecord, signal }),
  });

export const birdVialsOptions = (birdId: string) =>
  queryOptions({
    queryKey: tissueKeys.bird(birdId),
    queryFn: ({ signal }) => callApi(`/api/tissues/birds/${birdId}`, { schema: birdVials, signal }),
  });

export const exposedOptions = (logId: string) =>
  queryOptions({
    queryKey: tissueKeys.exposed(logId),
    queryFn: ({ signal }) => callApi(`/api/tissues/exposed/${logId}`, { schema: exposedVials, signal }),
  });

export const evacuationOptions = (unitId: string) =>
  queryOptions({
    queryKey: tissueKeys.evacuation(unitId),
    queryFn: ({ signal }) => callApi(`/api/tissues/evacuation/${unitId}`, { schema: evacuationList, signal }),
  });

function useSettled() {
  const queries = useQueryClient();
  return () =>
    Promise.all([
      queries.invalidateQueries({ queryKey: tissueKeys.all }),
      queries.invalidateQueries({ queryKey: ['storage'] }),
    ]);
}

export function useFillVials(birdId: string) {
  const queries = useQueryClient();
  const settled = useSettled();
  return useMutation({
    mutationFn: ({ key, ...body }: z.input<typeof fillRequest> & { key: string }) =>
      callApi('/api/tissues', { method: 'POST', body, schema: birdVials, idempotencyKey: key }),
    onSuccess: (vials) => {
      queries.setQueryData(tissueKeys.bird(birdId), vials);
      return settled();
    },
  });
}
function useVialCommand<Body>(id: string, act: 'use' | 'sub-sample' | 'change' | 'end' | 'find') {
  const queries = useQueryClient();
  const settled = useSettled();
  return useMutation({
    mutationFn: ({ key, ...body }: Body & { key?: string }) =>
      callApi(`/api/tissues/${id}/${act}`, { method: 'POST', body, schema: vialRecord, idempotencyKey: key }),
    onSuccess: (vial) => {
      queries.setQueryData(tissueKeys.vial(id), vial);
      return settled();
    },
  });
}
export const useTakeFromVial = (id: string) => useVialCommand<UseRequest>(id, 'use');
export const useSubSample = (id: string) => useVialCommand<SubSampleRequest>(id, 'sub-sample');
export const useChangeVial = (id: string) => useVialCommand<ChangeVialRequest>(id, 'change');
export const useEndVial = (id: string) => useVialCommand<EndRequest>(id, 'end');
export const useFindVial = (id: string) => useVialCommand<FindRequest>(id, 'find');

export function useCountThaws(logId: string) {
  const queries = useQueryClient();
  const settled = useSettled();
  return useMutation({
    mutationFn: (vialIds: string[]) =>
      callApi(`/api/tissues/exposed/${logId}`, { method: 'POST', body: { vialIds }, schema: exposedVials }),
    onSuccess: (exposed) => {
      queries.setQueryData(tissueKeys.exposed(logId), exposed);
      return settled();
    },
  });
}
