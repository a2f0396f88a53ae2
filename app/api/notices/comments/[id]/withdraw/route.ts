import { commentRow, commentWithdrawal } from '@/lib/notices/schema';
import { withdrawComment } from '@/lib/notices/service/comments';
import { defineRoute } from '@/lib/platform/http';
import { idParams } from '@/lib/platform/params';

export const POST = defineRoute({
  permission: 'comments.change',
  params: idParams,
  body: commentWithdrawal,
  response: commentRow,
  service: ({ context, params, body }) => withdrawComment(context, params.id, body),
});
