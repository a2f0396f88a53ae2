import { queryOptions, useMutation, useQueryClient } from '@tanstack/react-query';
import { z } from 'zod';
import { callApi, queryString } from '@/lib/platform/api';
import {
  type ChangeUnitRequest,
  type MakeUnitsRequest,
  type MoveMaterialsRequest,
  type MoveUnitRequest,
  madeUnits,
  materialMoves,
  movedMaterials,
  type ScanAnswer,
  scanAnswer,
  spaceAnswer,
  storageTree,
  type UnitRecord,
  unitRecord,
} from '@/lib/storage/wire';
import { countRecord, countRows, type ResolveRequest, type ScansRequest } from '@/lib/storage/wire-inventory';
import { logRow, logRows } from '@/lib/storage/wire-logs';

export const storageKeys = {
  all: ['storage'] as const,
  tree: ['storage', 'tree'] as const,
  unit: (id: string) => ['storage', 'unit', id] as const,
  space: (text: string, preservation: string) => ['storage', 'space', text, preservation] as const,
  moves: (id: string) => ['storage', 'moves', id] as const,
  counts: ['storage', 'counts'] as const,
  count: (id: string) => ['storage', 'count', id] as const,
  logs: (id: string) => ['storage', 'logs', id] as const,
};

export const treeOptions = () =>
  queryOptions({
    queryKey: storageKeys.tree,
    queryFn: ({ signal }) => callApi('/api/storage', { schema: storageTree, signal }),
  });

export const unitOptions = (id: string) =>
  queryOptions({
    queryKey: storageKeys.unit(id),
    queryFn: ({ signal }) => callApi(`/api/storage/${id}`, { schema: unitRecord, signal }),
  });

export const movesOptions = (id: string) =>
  queryOptions({
    queryKey: storageKeys.moves(id),
    queryFn: ({ signal }) => callApi(`/api/storage/materials/${id}/moves`, { schema: materialMoves, signal }),
  });

export const spaceOptions = (text: string, preservation: string) =>
  queryOptions({
    queryKey: storageKeys.space(text, preservation),
    queryFn: ({ signal }) =>
      callApi(`/api/storage/space${queryString({ text, preservation })}`, { schema: spaceAnswer, signal }),
    retry: false,
  });

export const countsOptions = () =>
  queryOptions({
    queryKey: storageKeys.counts,
    queryFn: ({ signal }) => callApi('/api/storage/inventory', { schema: countRows, signal }),
  });

export const countOptions = (id: string) =>
  queryOptions({
    queryKey: storageKeys.count(id),
    queryFn: ({ signal }) => callApi(`/api/storage/inventory/${id}`, { schema: countRecord, signal }),
  });

export const logsOptions = (id: string) =>
  queryOptions({
    queryKey: storageKeys.logs(id),
    queryFn: ({ signal }) => callApi(`/api/storage/${id}/logs`, { schema: logRows, signal }),
  });

/** What carries a scanned code. @throws ApiProblem not-found */
export const findCode = (code: string): Promise<ScanAnswer> =>
  callApi(`/api/storage/scan${queryString({ code })}`, { schema: scanAnswer });

/** Everything of the store may have changed with a move: loads, maps, lists of vials. */
function useSettled() {
  const queries = useQueryClient();
  return () =>
    Promise.all([
      queries.invalidateQueries({ queryKey: storageKeys.all }),
      queries.invalidateQueries({ queryKey: ['tissues'] }),
    ]);
}

export function useMoveMaterials() {
  const onSuccess = useSettled();
  return useMutation({
    mutationFn: (body: MoveMaterialsRequest) =>
      callApi('/api/storage/moves', { method: 'POST', body, schema: movedMaterials }),
    onSuccess,
  });
}

export function useMakeUnits() {
  const onSuccess = useSettled();
  return useMutation({
    mutationFn: ({ key, ...body }: MakeUnitsRequest & { key: string }) =>
      callApi('/api/storage', { method: 'POST', body, schema: madeUnits, idempotencyKey: key }),
    onSuccess,
  });
}

function useUnitCommand<Body>(id: string, act: 'change' | 'move') {
  const queries = useQueryClient();
  const settled = useSettled();
  return useMutation({
    mutationFn: (body: Body) =>
      callApi(`/api/storage/${id}/${act}`, { method: 'POST', body, schema: unitRecord }),
    onSuccess: (unit: UnitRecord) => {
      queries.setQueryData(storageKeys.unit(id), unit);
      return settled();
    },
  });
}
export const useChangeUnit = (id: string) => useUnitCommand<ChangeUnitRequest>(id, 'change');
export const useMoveUnit = (id: string) => useUnitCommand<MoveUnitRequest>(id, 'move');

export function useOpenCount() {
  const queries = useQueryClient();
  return useMutation({
    mutationFn: (unitId: string) =>
      callApi('/api/storage/inventory', { method: 'POST', body: { unitId }, schema: countRecord }),
    onSuccess: (count) => queries.setQueryData(storageKeys.count(count.id), count),
  });
}

function useCountCommand<Body>(id: string, act: 'scans' | 'close' | 'resolve') {
  const queries = useQueryClient();
  return useMutation({
    mutationFn: (body: Body) =>
      callApi(`/api/storage/inventory/${id}/${act}`, { method: 'POST', body, schema: countRecord }),
    onSuccess: (count) => queries.setQueryData(storageKeys.count(id), count),
  });
}
export const useAddScans = (id: string) => useCountCommand<ScansRequest>(id, 'scans');
export const useCloseCount = (id: string) => useCountCommand<Record<string, never>>(id, 'close');
export const useResolveFinding = (id: string) => useCountCommand<ResolveRequest>(id, 'resolve');

const loadedLogs = z.object({ rows: z.array(logRow) });
export type LoadLogInput = {
  file: File;
  timeColumn: string;
  temperatureColumn: string;
  freezerColumn?: string;
  unit: string;
  utcOffset?: string;
  thresholdC?: string;
  longestStepMinutes?: string;
};

/** Sends the file as it is, as the body: the server reads it as it arrives. */
export function useLoadLog(unitId: string) {
  const queries = useQueryClient();
  return useMutation({
    mutationFn: async ({ file, ...query }: LoadLogInput) =>
      callApi(`/api/storage/${unitId}/logs${queryString({ ...query, fileName: file.name })}`, {
        method: 'POST',
        file,
        schema: loadedLogs,
      }),
    onSuccess: () => queries.invalidateQueries({ queryKey: storageKeys.logs(unitId) }),
  });
}
