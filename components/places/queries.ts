import { queryOptions, useMutation, useQueryClient } from '@tanstack/react-query';
import type { z } from 'zod';
import {
  type PlaceListQuery,
  type placeChange,
  placeReading,
  placeRecord,
  type placeRequest,
  type placeToRead,
} from '@/lib/places/schema';
import { placePage } from '@/lib/places/wire-list';
import { callApi, queryString } from '@/lib/platform/api';

export const placeKeys = {
  all: ['places'] as const,
  list: (query: Partial<PlaceListQuery>) => ['places', 'list', query] as const,
  record: (id: string) => ['places', 'record', id] as const,
  reading: (place: unknown) => ['places', 'reading', place] as const,
};

export const placeListOptions = (query: Partial<PlaceListQuery>) =>
  queryOptions({
    queryKey: placeKeys.list(query),
    queryFn: ({ signal }) => callApi(`/api/places${queryString(query)}`, { schema: placePage, signal }),
    placeholderData: (previous) => previous,
  });

export const placeOptions = (id: string) =>
  queryOptions({
    queryKey: placeKeys.record(id),
    queryFn: ({ signal }) => callApi(`/api/places/${id}`, { schema: placeRecord, signal }),
  });

/** What the server understands of a place while it is typed. */
export const readingOptions = (place: z.input<typeof placeToRead>) =>
  queryOptions({
    queryKey: placeKeys.reading(place),
    queryFn: ({ signal }) =>
      callApi('/api/places/read', { method: 'POST', body: place, schema: placeReading, signal }),
    enabled: place.coordinates.trim() !== '',
    placeholderData: (previous) => previous,
    staleTime: Number.POSITIVE_INFINITY,
  });

export function useAddPlace() {
  const queries = useQueryClient();
  return useMutation({
    mutationFn: ({ key, ...body }: z.input<typeof placeRequest> & { key: string }) =>
      callApi('/api/places', { method: 'POST', body, schema: placeRecord, idempotencyKey: key }),
    onSuccess: (record) => {
      queries.setQueryData(placeKeys.record(record.id), record);
      return queries.invalidateQueries({ queryKey: ['places', 'list'] });
    },
  });
}

export function useChangePlace(id: string) {
  const queries = useQueryClient();
  return useMutation({
    mutationFn: (body: z.input<typeof placeChange>) =>
      callApi(`/api/places/${id}/change`, { method: 'POST', body, schema: placeRecord }),
    onSuccess: (record) => {
      queries.setQueryData(placeKeys.record(id), record);
      return queries.invalidateQueries({ queryKey: ['places', 'list'] });
    },
  });
}
