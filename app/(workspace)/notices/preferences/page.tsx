import { PreferenceTable } from '@/components/notices/preference-table';
import { noticeKeys } from '@/components/notices/queries';
import { showPreferences } from '@/lib/notices/service/notices';
import { requireActor, titled, withQueries } from '@/lib/platform/page';

export const generateMetadata = titled('What I am told');

export default async function NoticePreferencesPage() {
  const actor = await requireActor('notices.see');
  return withQueries(
    [{ key: noticeKeys.preferences, load: () => showPreferences(actor) }],
    <PreferenceTable />,
  );
}
