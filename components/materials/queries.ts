import { queryOptions } from '@tanstack/react-query';
import { callApi, queryString } from '@/lib/platform/api';
import { materialRecord, proposedPlaces } from '@/lib/storage/schema';

export const materialKeys = {
  record: (id: string) => ['storage', 'material', id] as const,
  places: (ids: readonly string[], q: string) => ['storage', 'places', ...ids, q] as const,
};

export const materialOptions = (id: string) =>
  queryOptions({
    queryKey: materialKeys.record(id),
    queryFn: ({ signal }) => callApi(`/api/materials/${id}`, { schema: materialRecord, signal }),
  });

export const placesOptions = (ids: readonly string[], q: string) =>
  queryOptions({
    queryKey: materialKeys.places(ids, q),
    queryFn: ({ signal }) =>
      callApi(`/api/materials/places${queryString({ ids: ids.join(','), q: q.trim() || undefined })}`, {
        schema: proposedPlaces,
        signal,
      }),
    placeholderData: (previous) => previous,
  });
