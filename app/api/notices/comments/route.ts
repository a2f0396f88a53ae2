import { commentListQuery, commentPage, commentRequest, commentRow } from '@/lib/notices/schema';
import { listComments, writeComment } from '@/lib/notices/service/comments';
import { defineRoute } from '@/lib/platform/http';

export const GET = defineRoute({
  permission: 'comments.see',
  query: commentListQuery,
  response: commentPage,
  service: ({ actor, query }) => listComments(actor, query),
});

export const POST = defineRoute({
  permission: 'comments.write',
  body: commentRequest,
  response: commentRow,
  service: ({ context, body }) => writeComment(context, body),
});
