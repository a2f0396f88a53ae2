import { commentEdit, commentRow } from '@/lib/notices/schema';
import { editComment } from '@/lib/notices/service/comments';
import { defineRoute } from '@/lib/platform/http';
import { idParams } from '@/lib/platform/params';

export const POST = defineRoute({
  permission: 'comments.change',
  params: idParams,
  body: commentEdit,
  response: commentRow,
  service: ({ context, params, body }) => editComment(context, params.id, body),
});
