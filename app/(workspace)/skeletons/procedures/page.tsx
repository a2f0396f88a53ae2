import { ProcedureBook } from '@/components/skeletons/procedure-book';
import { skeletonKeys } from '@/components/skeletons/queries';
import { requireActor, titled, withQueries } from '@/lib/platform/page';
import { showProcedures } from '@/lib/skeletons/procedures';

export const generateMetadata = titled('Cleaning procedures');

export default async function ProceduresPage() {
  const actor = await requireActor('materials.see');
  return withQueries(
    [{ key: skeletonKeys.procedures, load: () => showProcedures(actor) }],
    <ProcedureBook />,
  );
}
