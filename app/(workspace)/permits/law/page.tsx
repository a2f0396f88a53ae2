import { LawPage } from '@/components/permits/law-page';
import { permitKeys } from '@/components/permits/queries';
import { listPacks } from '@/lib/permits/service/rule-packs';
import { listDecisions, listStatusLists } from '@/lib/permits/service/status-lists';
import { requireActor, titled, withQueries } from '@/lib/platform/page';

export const generateMetadata = titled('Rules and lists');

export default async function Law() {
  const actor = await requireActor('permits.see');
  return withQueries(
    [
      { key: permitKeys.packs, load: () => listPacks(actor) },
      { key: permitKeys.lists, load: () => listStatusLists(actor) },
      { key: permitKeys.decisions, load: () => listDecisions(actor) },
    ],
    <LawPage />,
  );
}
