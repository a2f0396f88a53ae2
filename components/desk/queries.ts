import { queryOptions } from '@tanstack/react-query';
import { birdRecord, desk } from '@/lib/desk/schema';
import { callApi } from '@/lib/platform/api';

export const deskKeys = {
  piles: ['desk', 'piles'] as const,
  bird: (id: string) => ['desk', 'bird', id] as const,
};

export const birdOptions = (id: string) =>
  queryOptions({
    queryKey: deskKeys.bird(id),
    queryFn: ({ signal }) => callApi(`/api/desk/birds/${id}`, { schema: birdRecord, signal }),
  });

export const pilesOptions = () =>
  queryOptions({
    queryKey: deskKeys.piles,
    queryFn: ({ signal }) => callApi('/api/desk/piles', { schema: desk, signal }),
  });
