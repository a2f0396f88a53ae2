import { queryOptions } from '@tanstack/react-query';
import { birdRecord, desk, waitingCounts } from '@/lib/desk/schema';
import { callApi } from '@/lib/platform/api';

export const deskKeys = {
  waiting: ['desk', 'waiting'] as const,
  piles: ['desk', 'piles'] as const,
  bird: (id: string) => ['desk', 'bird', id] as const,
};

export const waitingOptions = () =>
  queryOptions({
    queryKey: deskKeys.waiting,
    queryFn: ({ signal }) => callApi('/api/desk/waiting', { schema: waitingCounts, signal }),
  });

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
