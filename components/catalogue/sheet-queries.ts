import { queryOptions, useMutation, useQueryClient } from '@tanstack/react-query';
import type { AmendRequest, DeaccessionRequest, DeterminationRequest } from '@/lib/catalogue/schema';
import { catalogueRecord } from '@/lib/catalogue/wire';
import { callApi } from '@/lib/platform/api';
import { catalogueKeys } from './query-keys';

export const sheetOptions = (birdId: string) =>
  queryOptions({
    queryKey: catalogueKeys.record(birdId),
    queryFn: ({ signal }) => callApi(`/api/catalogue/${birdId}`, { schema: catalogueRecord, signal }),
  });

type SheetChange =
  | { act: 'amend'; body: AmendRequest }
  | { act: 'determine'; body: DeterminationRequest }
  | { act: 'deaccession'; body: DeaccessionRequest };

/** A change of a catalogued bird; the answer is the sheet as it then is. */
export function useSheetChange(birdId: string) {
  const queries = useQueryClient();
  return useMutation({
    mutationFn: ({ act, body }: SheetChange) =>
      callApi(`/api/catalogue/${birdId}/${act}`, { method: 'POST', body, schema: catalogueRecord }),
    onSuccess: (record) => queries.setQueryData(catalogueKeys.record(birdId), record),
  });
}
