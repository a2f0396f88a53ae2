import { queryOptions, useMutation, useQueryClient } from '@tanstack/react-query';
import {
  type Invitation,
  linkAnswer,
  type PeopleQuery,
  peoplePage,
  personExport,
  personRecord,
} from '@/lib/people/schema';
import { callApi, queryString } from '@/lib/platform/api';
import type { Role } from '@/lib/platform/permissions';

export const peopleKeys = {
  all: ['people'] as const,
  list: (query: Partial<PeopleQuery>) => ['people', 'list', query] as const,
  record: (id: string) => ['people', 'record', id] as const,
};

export const peopleListOptions = (query: Partial<PeopleQuery>) =>
  queryOptions({
    queryKey: peopleKeys.list(query),
    queryFn: ({ signal }) => callApi(`/api/people${queryString(query)}`, { schema: peoplePage, signal }),
    placeholderData: (previous) => previous,
  });

export const personOptions = (id: string) =>
  queryOptions({
    queryKey: peopleKeys.record(id),
    queryFn: ({ signal }) => callApi(`/api/people/${id}`, { schema: personRecord, signal }),
  });

export function useInvite() {
  const queries = useQueryClient();
  return useMutation({
    mutationFn: (body: Invitation) => callApi('/api/people', { method: 'POST', body, schema: linkAnswer }),
    onSuccess: () => queries.invalidateQueries({ queryKey: peopleKeys.all }),
  });
}

type PersonAct =
  | { act: 'roles'; body: { roles: Role[]; reason: string } }
  | { act: 'active'; body: { active: boolean; reason: string } }
  | { act: 'reset-second-factor'; body: { reason: string } }
  | { act: 'erase'; body: { reason: string } }
  | { act: 'end-sessions'; body: Record<string, never> };

export function usePersonAct(id: string) {
  const queries = useQueryClient();
  return useMutation({
    mutationFn: ({ act, body }: PersonAct) =>
      callApi(`/api/people/${id}/${act}`, { method: 'POST', body, schema: personRecord }),
    onSuccess: (record) => {
      queries.setQueryData(peopleKeys.record(id), record);
      return queries.invalidateQueries({ queryKey: peopleKeys.all });
    },
  });
}

export const useResetLink = (id: string) =>
  useMutation({
    mutationFn: () =>
      callApi(`/api/people/${id}/reset-link`, { method: 'POST', body: {}, schema: linkAnswer }),
  });

export const useExportPerson = (id: string) =>
  useMutation({
    mutationFn: () => callApi(`/api/people/${id}/export`, { method: 'POST', body: {}, schema: personExport }),
  });
