import { queryOptions } from '@tanstack/react-query';
import { labelCheck, type PrintedKind } from '@/lib/labels/wire';
import { callApi, queryString } from '@/lib/platform/api';

export type LabelRequest = {
  ids?: string;
  in?: string;
  stock?: string;
  startAt?: string;
  offsetX?: string;
  offsetY?: string;
  measuredX?: string;
  measuredY?: string;
};

export const labelAddress = (kind: PrintedKind, request: LabelRequest): string =>
  `/api/labels/${kind}${queryString(request)}`;

export const labelCheckOptions = (kind: PrintedKind, request: LabelRequest) =>
  queryOptions({
    queryKey: ['labels', kind, request] as const,
    queryFn: ({ signal }) =>
      callApi(`/api/labels/${kind}/check${queryString(request)}`, { schema: labelCheck, signal }),
    retry: false,
  });
