import { queryOptions, useMutation, useQueryClient } from '@tanstack/react-query';
import { callApi, queryString } from '@/lib/platform/api';
import { dayPlan, type PlanChange, type PlanRequest, planPage } from '@/lib/queue/plan-wire';

type ListQuery = { size?: number; after?: string };

export const planKeys = {
  all: ['queue', 'plan'] as const,
  list: (query: ListQuery) => ['queue', 'plan', 'list', query] as const,
  plan: (id: string) => ['queue', 'plan', id] as const,
};

export const planListOptions = (query: ListQuery) =>
  queryOptions({
    queryKey: planKeys.list(query),
    queryFn: ({ signal }) => callApi(`/api/queue/plan${queryString(query)}`, { schema: planPage, signal }),
    placeholderData: (previous) => previous,
  });

const ASK_AGAIN_MS = 1000;

export const planOptions = (id: string) =>
  queryOptions({
    queryKey: planKeys.plan(id),
    queryFn: ({ signal }) => callApi(`/api/queue/plan/${id}`, { schema: dayPlan, signal }),
    // The solver's answer is announced like every change; while it works we also ask, should the line be down.
    refetchInterval: ({ state }) =>
      state.data?.state === 'asked' || state.data?.state === 'working' ? ASK_AGAIN_MS : false,
  });

export function useAskPlan() {
  const queries = useQueryClient();
  return useMutation({
    mutationFn: ({ key, ...body }: PlanRequest & { key: string }) =>
      callApi('/api/queue/plan', { method: 'POST', body, schema: dayPlan, idempotencyKey: key }),
    onSuccess: (plan) => queries.setQueryData(planKeys.plan(plan.id), plan),
    onSettled: () => queries.invalidateQueries({ queryKey: planKeys.all }),
  });
}

export type PlanAct =
  | { act: 'change'; body: PlanChange }
  | { act: 'in-force'; body: { version: number } }
  | { act: 'stop' | 'set-aside'; body: Record<string, never> };

export function usePlanAct(id: string) {
  const queries = useQueryClient();
  return useMutation({
    mutationFn: ({ act, body }: PlanAct) =>
      callApi(`/api/queue/plan/${id}/${act}`, { method: 'POST', body, schema: dayPlan }),
    onSuccess: (plan) => queries.setQueryData(planKeys.plan(id), plan),
    onError: () => queries.invalidateQueries({ queryKey: planKeys.plan(id) }),
  });
}
