import { useMutation } from '@tanstack/react-query';
import { callApi } from '@/lib/platform/api';
import { finderAnswer, finderExport } from '@/lib/salvage/wire-finder';

export function useLookUpFinder(id: string) {
  return useMutation({
    mutationFn: () =>
      callApi(`/api/salvage/${id}/finder`, { method: 'POST', body: {}, schema: finderAnswer }),
  });
}

export const useExportFinder = (id: string) =>
  useMutation({
    mutationFn: () =>
      callApi(`/api/salvage/${id}/finder/export`, { method: 'POST', body: {}, schema: finderExport }),
  });
