import { queryOptions, useMutation, useQueryClient } from '@tanstack/react-query';
import { notify } from '@/components/ui/notify';
import { callApi, queryString } from '@/lib/platform/api';
import { say } from '@/lib/platform/words/say';
import {
  benchPeople,
  type EnqueueRequest,
  enqueueAnswer,
  type QueueListQuery,
  queuePage,
  queueRow,
  type SkillChange,
} from '@/lib/queue/wire';

type ListQuery = Partial<Omit<QueueListQuery, 'held'>> & { held?: boolean };

export const queueKeys = {
  all: ['queue'] as const,
  list: (query: ListQuery) => ['queue', 'list', query] as const,
  bird: (id: string) => ['queue', 'bird', id] as const,
  people: ['queue', 'people'] as const,
};

export const queueListOptions = (query: ListQuery) =>
  queryOptions({
    queryKey: queueKeys.list(query),
    queryFn: ({ signal }) => {
      const { states, held, ...rest } = query;
      const address = queryString({
        ...rest,
        states: states?.join(','),
        held: held === undefined ? undefined : held ? 'yes' : 'no',
      });
      return callApi(`/api/queue${address}`, { schema: queuePage, signal });
    },
    placeholderData: (previous) => previous,
  });

export const benchPeopleOptions = () =>
  queryOptions({
    queryKey: queueKeys.people,
    queryFn: ({ signal }) => callApi('/api/queue/skills', { schema: benchPeople, signal }),
  });

export type BirdAct =
  | { id: string; act: 'take'; body: { supervisorId?: string } }
  | { id: string; act: 'put-back'; body: { reason?: string } }
  | { id: string; act: 'hand-over'; body: { toPersonId: string; reason?: string } }
  | { id: string; act: 'co-work'; body: { version: number; withPersonId: string | null } }
  | { id: string; act: 'take-out'; body: Record<string, never> }
  | { id: string; act: 'request'; body: { version: number; urgency: string; reason: string } };

export function useBirdAct() {
  const queries = useQueryClient();
  return useMutation({
    mutationFn: ({ id, act, body }: BirdAct) =>
      callApi(`/api/queue/${id}/${act}`, { method: 'POST', body, schema: queueRow }),
    // The bird leaves the list of those that wait: say where it went.
    onSuccess: ({ number, place }, { act }) => {
      if (act !== 'take') return;
      notify({
        title: say('{number} is yours.', { number }),
        message: say('{x}. You find it under “Taken”, and on your desk.', {
          x: place === null ? say('No place is noted for it') : say('It lies in {place}', { place }),
        }),
      });
    },
    // Also after a refusal: somebody else may have been quicker, and the list should show it.
    onSettled: () => queries.invalidateQueries({ queryKey: queueKeys.all }),
  });
}

export function useEnqueue() {
  const queries = useQueryClient();
  return useMutation({
    mutationFn: (body: EnqueueRequest) =>
      callApi('/api/queue/enqueue', { method: 'POST', body, schema: enqueueAnswer }),
    onSettled: () => queries.invalidateQueries({ queryKey: queueKeys.all }),
  });
}

export function useSignSkill() {
  const queries = useQueryClient();
  return useMutation({
    mutationFn: (body: SkillChange) =>
      callApi('/api/queue/skills', { method: 'POST', body, schema: benchPeople }),
    onSuccess: (people) => queries.setQueryData(queueKeys.people, people),
  });
}
