import { notFound } from 'next/navigation';
import { ChecklistPage } from '@/components/taxa/checklist-page';
import { taxaKeys } from '@/components/taxa/queries';
import { orNull, type RecordParams, readId, requireActor, titled, withQueries } from '@/lib/platform/page';
import { showChecklist } from '@/lib/taxa/service/checklists';

export const generateMetadata = titled('Checklist');

export default async function OneChecklistPage({ params }: { params: RecordParams }) {
  const actor = await requireActor('taxa.manage');
  const id = await readId(params);
  const record = await orNull(showChecklist(actor, id));
  if (record === null) notFound();
  return withQueries([{ key: taxaKeys.checklist(id), load: async () => record }], <ChecklistPage id={id} />);
}
