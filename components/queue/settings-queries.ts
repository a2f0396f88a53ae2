import { queryOptions, useMutation, useQueryClient } from '@tanstack/react-query';
import { callApi, queryString } from '@/lib/platform/api';
import {
  type SettingsChange,
  settingsAnswer,
  type WeightsAndScales,
  weightsPreview,
} from '@/lib/queue/settings-wire';

export const settingsKey = ['queue', 'settings'] as const;

export const settingsOptions = () =>
  queryOptions({
    queryKey: settingsKey,
    queryFn: ({ signal }) => callApi('/api/queue/settings', { schema: settingsAnswer, signal }),
  });

export const previewOptions = (proposal: WeightsAndScales) =>
  queryOptions({
    queryKey: ['queue', 'preview', proposal],
    queryFn: ({ signal }) =>
      callApi(`/api/queue/settings/preview${queryString({ proposal: JSON.stringify(proposal) })}`, {
        schema: weightsPreview,
        signal,
      }),
    placeholderData: (previous) => previous,
  });

export function useChangeSettings() {
  const queries = useQueryClient();
  return useMutation({
    mutationFn: (body: SettingsChange) =>
      callApi('/api/queue/settings', { method: 'POST', body, schema: settingsAnswer }),
    onSuccess: (answer) => queries.setQueryData(settingsKey, answer),
    onSettled: () => queries.invalidateQueries({ queryKey: ['queue'] }),
  });
}
