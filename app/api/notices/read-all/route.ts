import { readAllRequest } from '@/lib/notices/schema';
import { markAllNoticesRead } from '@/lib/notices/service/notices';
import { unreadCount } from '@/lib/notices/unread';
import { defineRoute } from '@/lib/platform/http';

export const POST = defineRoute({
  permission: 'notices.see',
  body: readAllRequest,
  response: unreadCount,
  service: ({ context, body }) => markAllNoticesRead(context, body),
});
