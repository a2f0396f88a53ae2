import { queryOptions, useMutation, useQueryClient } from '@tanstack/react-query';
import type { AmendPermitRequest, CreatePermitRequest } from '@/lib/permits/permit-schema';
import {
  type ConfirmRuleRequest,
  type CorrectPermitRequest,
  type DecisionRequest,
  decisionList,
  decisionRow,
  type ImportListRequest,
  importListAnswer,
  type PermitListQuery,
  packList,
  packRecord,
  permitPage,
  permitRecord,
  type RenewPermitRequest,
  statusLists,
} from '@/lib/permits/wire';
import { callApi, queryString } from '@/lib/platform/api';

export const permitKeys = {
  all: ['permits'] as const,
  list: (query: Partial<PermitListQuery>) => ['permits', 'list', query] as const,
  record: (id: string) => ['permits', 'record', id] as const,
  packs: ['permits', 'packs'] as const,
  pack: (id: string) => ['permits', 'pack', id] as const,
  lists: ['permits', 'lists'] as const,
  decisions: ['permits', 'decisions'] as const,
};

export const permitListOptions = (query: Partial<PermitListQuery>) =>
  queryOptions({
    queryKey: permitKeys.list(query),
    queryFn: ({ signal }) => callApi(`/api/permits${queryString(query)}`, { schema: permitPage, signal }),
    placeholderData: (previous) => previous,
  });

export const permitOptions = (id: string) =>
  queryOptions({
    queryKey: permitKeys.record(id),
    queryFn: ({ signal }) => callApi(`/api/permits/${id}`, { schema: permitRecord, signal }),
  });

export const packsOptions = () =>
  queryOptions({
    queryKey: permitKeys.packs,
    queryFn: ({ signal }) => callApi('/api/permits/rule-packs', { schema: packList, signal }),
  });

export const packOptions = (id: string) =>
  queryOptions({
    queryKey: permitKeys.pack(id),
    queryFn: ({ signal }) => callApi(`/api/permits/rule-packs/${id}`, { schema: packRecord, signal }),
  });

export const listsOptions = () =>
  queryOptions({
    queryKey: permitKeys.lists,
    queryFn: ({ signal }) => callApi('/api/permits/lists', { schema: statusLists, signal }),
  });

export const decisionsOptions = () =>
  queryOptions({
    queryKey: permitKeys.decisions,
    queryFn: ({ signal }) => callApi('/api/permits/decisions', { schema: decisionList, signal }),
  });

export function useCreatePermit() {
  const queries = useQueryClient();
  return useMutation({
    mutationFn: ({ key, ...body }: CreatePermitRequest & { key: string }) =>
      callApi('/api/permits', { method: 'POST', body, schema: permitRecord, idempotencyKey: key }),
    onSuccess: (record) => {
      queries.setQueryData(permitKeys.record(record.id), record);
      return queries.invalidateQueries({ queryKey: permitKeys.all });
    },
  });
}

type PermitAct =
  | { act: 'amend'; body: AmendPermitRequest }
  | { act: 'correct'; body: CorrectPermitRequest }
  | { act: 'renew'; body: RenewPermitRequest };

/** An act on a permit; renewing answers the new one. */
export function usePermitAct(id: string) {
  const queries = useQueryClient();
  return useMutation({
    mutationFn: ({ act, body }: PermitAct) =>
      callApi(`/api/permits/${id}/${act}`, { method: 'POST', body, schema: permitRecord }),
    onSuccess: (record) => {
      queries.setQueryData(permitKeys.record(record.id), record);
      return queries.invalidateQueries({ queryKey: permitKeys.all });
    },
  });
}

export function useLoadPack() {
  const queries = useQueryClient();
  return useMutation({
    mutationFn: (body: { fileName: string; text: string }) =>
      callApi('/api/permits/rule-packs', { method: 'POST', body, schema: packRecord }),
    onSuccess: () => queries.invalidateQueries({ queryKey: permitKeys.all }),
  });
}

export function usePackAct(id: string) {
  const queries = useQueryClient();
  return useMutation({
    mutationFn: (
      input:
        | { act: 'confirm'; body: ConfirmRuleRequest }
        | { act: 'active'; body: { active: boolean; reason: string } },
    ) =>
      callApi(`/api/permits/rule-packs/${id}/${input.act}`, {
        method: 'POST',
        body: input.body,
        schema: packRecord,
      }),
    onSuccess: (record) => {
      queries.setQueryData(permitKeys.pack(id), record);
      return queries.invalidateQueries({ queryKey: permitKeys.packs });
    },
  });
}

export function useImportList() {
  const queries = useQueryClient();
  return useMutation({
    mutationFn: (body: ImportListRequest) =>
      callApi('/api/permits/lists', { method: 'POST', body, schema: importListAnswer }),
    onSuccess: () => queries.invalidateQueries({ queryKey: permitKeys.all }),
  });
}

export function useDecide() {
  const queries = useQueryClient();
  return useMutation({
    mutationFn: (body: DecisionRequest) =>
      callApi('/api/permits/decisions', { method: 'POST', body, schema: decisionRow }),
    onSuccess: () => queries.invalidateQueries({ queryKey: permitKeys.decisions }),
  });
}

export function useWithdrawDecision() {
  const queries = useQueryClient();
  return useMutation({
    mutationFn: ({ id, reason }: { id: string; reason: string }) =>
      callApi(`/api/permits/decisions/${id}/withdraw`, {
        method: 'POST',
        body: { reason },
        schema: decisionRow,
      }),
    onSuccess: () => queries.invalidateQueries({ queryKey: permitKeys.decisions }),
  });
}
