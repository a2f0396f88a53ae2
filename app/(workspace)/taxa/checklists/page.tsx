import { Checklists } from '@/components/taxa/checklists';
import { taxaKeys } from '@/components/taxa/queries';
import { requireActor, titled, withQueries } from '@/lib/platform/page';
import { listChecklists } from '@/lib/taxa/service/checklists';

export const generateMetadata = titled('Checklists');

export default async function ChecklistsPage() {
  const actor = await requireActor('taxa.see');
  return withQueries([{ key: taxaKeys.checklists, load: () => listChecklists(actor) }], <Checklists />);
}
