import { queryOptions, useMutation, useQueryClient } from '@tanstack/react-query';
import type { z } from 'zod';
import {
  exportOverview,
  type exportQuery,
  type importMapping,
  importPage,
  importRecord,
  qualityAnswer,
  type TokenRequest,
  tokenMade,
  tokenRow,
  tokenRows,
} from '@/lib/exchange/schema';
import { ApiProblem, callApi, problemSchema, queryString } from '@/lib/platform/api';

export const exchangeKeys = {
  all: ['exchange'] as const,
  overview: ['exchange', 'overview'] as const,
  quality: (query: unknown) => ['exchange', 'quality', query] as const,
  imports: (after?: string) => ['exchange', 'imports', after ?? null] as const,
  importRun: (id: string) => ['exchange', 'import', id] as const,
  tokens: ['exchange', 'tokens'] as const,
  api: ['exchange', 'api'] as const,
  webhooks: ['exchange', 'webhooks'] as const,
  deliveries: (after?: string) => ['exchange', 'deliveries', after ?? null] as const,
};

export const overviewOptions = () =>
  queryOptions({
    queryKey: exchangeKeys.overview,
    queryFn: ({ signal }) => callApi('/api/exchange', { schema: exportOverview, signal }),
  });

export const qualityOptions = (query: z.input<typeof exportQuery>) =>
  queryOptions({
    queryKey: exchangeKeys.quality(query),
    queryFn: ({ signal }) =>
      callApi(`/api/exchange/quality${queryString(query)}`, { schema: qualityAnswer, signal }),
    staleTime: 300_000,
  });

export const importsOptions = (after?: string) =>
  queryOptions({
    queryKey: exchangeKeys.imports(after),
    queryFn: ({ signal }) =>
      callApi(`/api/exchange/imports${queryString({ after, size: 20 })}`, { schema: importPage, signal }),
  });

const WORKING_MS = 1_500;
const WORKING: readonly string[] = ['checking', 'running', 'cancelling', 'undoing'];

/** One import; asked again while it works, so that its progress moves, also after a reload. */
export const importOptions = (id: string) =>
  queryOptions({
    queryKey: exchangeKeys.importRun(id),
    queryFn: ({ signal }) => callApi(`/api/exchange/imports/${id}`, { schema: importRecord, signal }),
    refetchInterval: ({ state }) => (WORKING.includes(state.data?.state ?? '') ? WORKING_MS : false),
  });

export function useHandInSheet() {
  const queries = useQueryClient();
  return useMutation({
    mutationFn: async (file: File) => {
      const response = await fetch(`/api/exchange/imports${queryString({ fileName: file.name })}`, {
        method: 'POST',
        body: file,
      });
      const answer: unknown = await response.json();
      if (!response.ok) throw new ApiProblem(problemSchema.parse(answer));
      return importRecord.parse(answer);
    },
    onSuccess: (record) => {
      queries.setQueryData(exchangeKeys.importRun(record.id), record);
      return queries.invalidateQueries({ queryKey: ['exchange', 'imports'] });
    },
  });
}

type ImportAct =
  | { act: 'check'; body: z.input<typeof importMapping> }
  | { act: 'run' | 'cancel'; body: Record<string, never> }
  | { act: 'undo'; body: { reason: string } };

export function useImportAct(id: string) {
  const queries = useQueryClient();
  return useMutation({
    mutationFn: ({ act, body }: ImportAct) =>
      callApi(`/api/exchange/imports/${id}/${act}`, { method: 'POST', body, schema: importRecord }),
    onSuccess: (record) => queries.setQueryData(exchangeKeys.importRun(id), record),
  });
}

export const tokensOptions = () =>
  queryOptions({
    queryKey: exchangeKeys.tokens,
    queryFn: ({ signal }) => callApi('/api/exchange/tokens', { schema: tokenRows, signal }),
  });

export function useMakeToken() {
  const queries = useQueryClient();
  return useMutation({
    mutationFn: (body: TokenRequest) =>
      callApi('/api/exchange/tokens', { method: 'POST', body, schema: tokenMade }),
    onSuccess: () => queries.invalidateQueries({ queryKey: exchangeKeys.tokens }),
  });
}

export function useRevokeToken() {
  const queries = useQueryClient();
  return useMutation({
    mutationFn: ({ id, reason }: { id: string; reason: string }) =>
      callApi(`/api/exchange/tokens/${id}/revoke`, { method: 'POST', body: { reason }, schema: tokenRow }),
    onSuccess: () => queries.invalidateQueries({ queryKey: exchangeKeys.tokens }),
  });
}
