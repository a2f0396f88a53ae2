import { readAllRequest, unreadCount } from '@/lib/notices/schema';
import { markAllNoticesRead } from '@/lib/notices/service/notices';
import { defineRoute } from '@/lib/platform/http';

export const POST = defineRoute({
  permission: 'notices.see',
  body: readAllRequest,
  response: unreadCount,
  service: ({ context, body }) => markAllNoticesRead(context, body),
});
