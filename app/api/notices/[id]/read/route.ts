import { noticeRow, readRequest } from '@/lib/notices/schema';
import { markRead } from '@/lib/notices/service/notices';
import { defineRoute } from '@/lib/platform/http';
import { idParams } from '@/lib/platform/params';

export const POST = defineRoute({
  permission: 'notices.see',
  params: idParams,
  body: readRequest,
  response: noticeRow,
  service: ({ context, params, body }) => markRead(context, params.id, body.read),
});
