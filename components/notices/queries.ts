import { infiniteQueryOptions, queryOptions, useMutation, useQueryClient } from '@tanstack/react-query';
import {
  type CommentRequest,
  commentPage,
  commentRow,
  followAnswer,
  type NoticeListQuery,
  noticePage,
  noticeRow,
  type Preferences,
  type PreferencesRequest,
  preferences,
  readers,
  type Subject,
} from '@/lib/notices/schema';
import { unreadCount } from '@/lib/notices/unread';
import { callApi, queryString } from '@/lib/platform/api';

export const noticeKeys = {
  all: ['notices'] as const,
  list: (query: NoticeListQuery) => ['notices', 'list', query] as const,
  preferences: ['notices', 'preferences'] as const,
  comments: ({ subjectType, subjectId }: Subject) => ['notices', 'comments', subjectType, subjectId] as const,
  readers: ({ subjectType, subjectId }: Subject) => ['notices', 'readers', subjectType, subjectId] as const,
};

export const noticeListOptions = (query: NoticeListQuery) =>
  queryOptions({
    queryKey: noticeKeys.list(query),
    queryFn: ({ signal }) => callApi(`/api/notices${queryString(query)}`, { schema: noticePage, signal }),
    placeholderData: (previous) => previous,
  });

export const preferencesOptions = () =>
  queryOptions({
    queryKey: noticeKeys.preferences,
    queryFn: ({ signal }) => callApi('/api/notices/preferences', { schema: preferences, signal }),
  });

export const commentsOptions = (subject: Subject) =>
  infiniteQueryOptions({
    queryKey: noticeKeys.comments(subject),
    initialPageParam: undefined as string | undefined,
    queryFn: ({ pageParam, signal }) =>
      callApi(`/api/notices/comments${queryString({ ...subject, after: pageParam, size: 25 })}`, {
        schema: commentPage,
        signal,
      }),
    getNextPageParam: (page) => page.next ?? undefined,
  });

export const readersOptions = (subject: Subject, enabled: boolean) =>
  queryOptions({
    queryKey: noticeKeys.readers(subject),
    queryFn: ({ signal }) =>
      callApi(`/api/notices/readers${queryString(subject)}`, { schema: readers, signal }),
    enabled,
  });

function useRefresh() {
  const client = useQueryClient();
  return () => client.invalidateQueries({ queryKey: noticeKeys.all });
}

export function useMarkRead() {
  const refresh = useRefresh();
  return useMutation({
    mutationFn: ({ id, read }: { id: string; read: boolean }) =>
      callApi(`/api/notices/${id}/read`, { method: 'POST', body: { read }, schema: noticeRow }),
    onSettled: refresh,
  });
}

export function useMarkAllRead() {
  const refresh = useRefresh();
  return useMutation({
    mutationFn: (until: string) =>
      callApi('/api/notices/read-all', { method: 'POST', body: { until }, schema: unreadCount }),
    onSettled: refresh,
  });
}

/** Saves a choice as it is made; the page shows it at once and takes it back when it is refused. */
export function useSetPreferences() {
  const client = useQueryClient();
  return useMutation({
    mutationFn: (body: PreferencesRequest) =>
      callApi('/api/notices/preferences', { method: 'PUT', body, schema: preferences }),
    onMutate: async ({ rows }) => {
      await client.cancelQueries({ queryKey: noticeKeys.preferences });
      client.setQueryData<Preferences>(noticeKeys.preferences, (before) =>
        before === undefined
          ? before
          : {
              ...before,
              rows: before.rows.map((row) => rows.find(({ kind }) => kind === row.kind) ?? row),
            },
      );
    },
    onSettled: () => client.invalidateQueries({ queryKey: noticeKeys.preferences }),
  });
}

export function useWriteComment() {
  const refresh = useRefresh();
  return useMutation({
    mutationFn: ({ key, ...body }: CommentRequest & { key: string }) =>
      callApi('/api/notices/comments', { method: 'POST', body, schema: commentRow, idempotencyKey: key }),
    onSuccess: refresh,
  });
}

export function useEditComment(id: string) {
  const refresh = useRefresh();
  return useMutation({
    mutationFn: (body: { version: number; text: string }) =>
      callApi(`/api/notices/comments/${id}/edit`, { method: 'POST', body, schema: commentRow }),
    onSuccess: refresh,
  });
}

export function useWithdrawComment(id: string) {
  const refresh = useRefresh();
  return useMutation({
    mutationFn: (version: number) =>
      callApi(`/api/notices/comments/${id}/withdraw`, {
        method: 'POST',
        body: { version },
        schema: commentRow,
      }),
    // A refusal may mean that it was changed in another window: the page should show it as it is.
    onSettled: refresh,
  });
}

export function useFollow(subject: Subject) {
  const refresh = useRefresh();
  return useMutation({
    mutationFn: (follow: boolean) =>
      callApi('/api/notices/follow', { method: 'POST', body: { ...subject, follow }, schema: followAnswer }),
    onSettled: refresh,
  });
}
