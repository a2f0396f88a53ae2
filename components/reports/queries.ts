import { queryOptions, useMutation, useQueryClient } from '@tanstack/react-query';
import { ApiProblem, callApi, queryString } from '@/lib/platform/api';
import {
  type AmendReportRequest,
  type ExplainRequest,
  type LineQuery,
  linePage,
  type OpenReportRequest,
  reportCheck,
  reportDesk,
  reportRecord,
} from '@/lib/reports/wire';

export const reportKeys = {
  all: ['reports'] as const,
  desk: ['reports', 'desk'] as const,
  record: (id: string) => ['reports', 'record', id] as const,
  lines: (id: string, query: Partial<LineQuery>) => ['reports', 'lines', id, query] as const,
  check: (id: string) => ['reports', 'check', id] as const,
};

export const reportDeskOptions = () =>
  queryOptions({
    queryKey: reportKeys.desk,
    queryFn: ({ signal }) => callApi('/api/reports', { schema: reportDesk, signal }),
  });

export const reportOptions = (id: string) =>
  queryOptions({
    queryKey: reportKeys.record(id),
    queryFn: ({ signal }) => callApi(`/api/reports/${id}`, { schema: reportRecord, signal }),
  });

export const reportLinesOptions = (id: string, query: Partial<LineQuery>) =>
  queryOptions({
    queryKey: reportKeys.lines(id, query),
    queryFn: ({ signal }) =>
      callApi(`/api/reports/${id}/lines${queryString(query)}`, { schema: linePage, signal }),
    placeholderData: (previous) => previous,
  });

export const reportCheckOptions = (id: string) =>
  queryOptions({
    queryKey: reportKeys.check(id),
    queryFn: ({ signal }) => callApi(`/api/reports/${id}/check`, { schema: reportCheck, signal }),
  });

export function useOpenReport() {
  const queries = useQueryClient();
  return useMutation({
    mutationFn: (body: OpenReportRequest) =>
      callApi('/api/reports', { method: 'POST', body, schema: reportRecord }),
    onSuccess: (record) => queries.setQueryData(reportKeys.record(record.id), record),
    onSettled: () => queries.invalidateQueries({ queryKey: reportKeys.desk }),
  });
}

type Act =
  | ({ act: 'explain' } & ExplainRequest)
  | { act: 'ready'; version: number }
  | { act: 'sign'; version: number; certification: true }
  | ({ act: 'amend' } & AmendReportRequest);

/** What is done to a report. When somebody else changed it meanwhile, the page shows what stands now. */
export function useReportAct(id: string) {
  const queries = useQueryClient();
  return useMutation({
    mutationFn: ({ act, ...body }: Act) =>
      callApi(`/api/reports/${id}/${act}`, { method: 'POST', body, schema: reportRecord }),
    onSuccess: (record) => {
      queries.setQueryData(reportKeys.record(record.id), record);
      if (record.id !== id) void queries.invalidateQueries({ queryKey: reportKeys.record(id) });
      return queries.invalidateQueries({ queryKey: reportKeys.desk });
    },
    onError: (error) => {
      const late = error instanceof ApiProblem && error.problem.status === 409;
      if (late) void queries.invalidateQueries({ queryKey: reportKeys.record(id) });
    },
  });
}
