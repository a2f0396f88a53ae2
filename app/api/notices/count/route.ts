import { unreadCount } from '@/lib/notices/schema';
import { countUnreadNotices } from '@/lib/notices/service/notices';
import { defineRoute } from '@/lib/platform/http';

export const GET = defineRoute({
  permission: 'notices.see',
  response: unreadCount,
  service: ({ actor }) => countUnreadNotices(actor),
});
