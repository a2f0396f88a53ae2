import { queryOptions, useMutation, useQueryClient } from '@tanstack/react-query';
import type { FieldId } from '@/lib/bench/fields';
import { callApi } from '@/lib/platform/api';
import { benchKeys } from './keys';
import { answerOf } from './later-code';

export const benchRecordOptions = (id: string) =>
  queryOptions({
    queryKey: benchKeys.record(id),
    queryFn: ({ signal }) => callApi(`/api/bench/${id}`, { schema: answerOf('benchRecord'), signal }),
  });

export const fieldEntriesOptions = (id: string, field: FieldId) =>
  queryOptions({
    queryKey: benchKeys.field(id, field),
    queryFn: ({ signal }) =>
      callApi(`/api/bench/${id}/entries?field=${field}`, { schema: answerOf('entryHistory'), signal }),
  });

export const colleaguesOptions = () =>
  queryOptions({
    queryKey: benchKeys.colleagues,
    queryFn: ({ signal }) => callApi('/api/bench/colleagues', { schema: answerOf('colleagues'), signal }),
  });

type RecordAct = 'undo' | 'style' | 'scribe' | 'remarks' | 'divide' | 'send' | 'take-back';

/** A command on one record that needs the server's answer at once; values and steps go through the change queue. */
export function useRecordAct(id: string, act: RecordAct) {
  const queries = useQueryClient();
  return useMutation({
    mutationFn: (body: Record<string, unknown>) =>
      callApi(`/api/bench/${id}/${act}`, { method: 'POST', body, schema: answerOf('benchRecord') }),
    onSuccess: (record) => queries.setQueryData(benchKeys.record(id), record),
  });
}
