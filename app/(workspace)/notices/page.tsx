import { NoticeList } from '@/components/notices/notice-list';
import { noticeKeys } from '@/components/notices/queries';
import { noticeListQuery } from '@/lib/notices/schema';
import { listNotices } from '@/lib/notices/service/notices';
import { readListQuery, requireActor, type SearchParams, titled, withQueries } from '@/lib/platform/page';

export const generateMetadata = titled('Notices');

export default async function NoticesPage({ searchParams }: { searchParams: SearchParams }) {
  const actor = await requireActor('notices.see');
  const query = await readListQuery(noticeListQuery, searchParams);
  return withQueries(
    [{ key: noticeKeys.list(query), load: () => listNotices(actor, query) }],
    <NoticeList query={query} />,
  );
}
