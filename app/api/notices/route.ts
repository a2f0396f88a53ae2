import { noticeListQuery, noticePage } from '@/lib/notices/schema';
import { listNotices } from '@/lib/notices/service/notices';
import { defineRoute } from '@/lib/platform/http';

export const GET = defineRoute({
  permission: 'notices.see',
  query: noticeListQuery,
  response: noticePage,
  service: ({ actor, query }) => listNotices(actor, query),
});
