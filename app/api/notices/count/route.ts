import { countUnreadNotices } from '@/lib/notices/service/notices';
import { unreadCount } from '@/lib/notices/unread';
import { defineRoute } from '@/lib/platform/http';

export const GET = defineRoute({
  permission: 'notices.see',
  response: unreadCount,
  service: ({ actor }) => countUnreadNotices(actor),
});
