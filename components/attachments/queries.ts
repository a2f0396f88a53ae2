import { queryOptions, useMutation, useQueryClient } from '@tanstack/react-query';
import {
  type AttachmentSubject,
  attachmentList,
  attachmentRow,
  type FileCopy,
  removedAnswer,
} from '@/lib/attachments/schema';
import { callApi, queryString } from '@/lib/platform/api';

export type FileSubject = { subjectType: AttachmentSubject; subjectId: string };

const keys = {
  of: ({ subjectType, subjectId }: FileSubject) => ['attachments', subjectType, subjectId] as const,
};

export const filesOptions = (subject: FileSubject) =>
  queryOptions({
    queryKey: keys.of(subject),
    queryFn: ({ signal }) =>
      callApi(`/api/attachments${queryString(subject)}`, { schema: attachmentList, signal }),
  });

/** The address of one copy of a file. */
export const fileAddress = (id: string, copy: FileCopy): string => `/api/attachments/${id}/file?copy=${copy}`;

function useRefresh() {
  const client = useQueryClient();
  return () => client.invalidateQueries({ queryKey: ['attachments'] });
}

export function useAddFile() {
  const refresh = useRefresh();
  return useMutation({
    mutationFn: ({ file, caption, ...subject }: FileSubject & { file: File; caption: string }) =>
      callApi(`/api/attachments${queryString({ ...subject, fileName: file.name, caption })}`, {
        method: 'POST',
        file,
        schema: attachmentRow,
      }),
    onSettled: refresh,
  });
}

export function useCaptionFile(id: string) {
  const refresh = useRefresh();
  return useMutation({
    mutationFn: (caption: string) =>
      callApi(`/api/attachments/${id}/caption`, { method: 'POST', body: { caption }, schema: attachmentRow }),
    onSuccess: refresh,
  });
}

export function useRemoveFile(id: string) {
  const refresh = useRefresh();
  return useMutation({
    mutationFn: (reason: string) =>
      callApi(`/api/attachments/${id}/remove`, { method: 'POST', body: { reason }, schema: removedAnswer }),
    onSuccess: refresh,
  });
}
