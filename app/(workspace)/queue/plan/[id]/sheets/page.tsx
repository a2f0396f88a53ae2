import { notFound } from 'next/navigation';
import { planKeys } from '@/components/queue/plan-queries';
import { PlanSheets } from '@/components/queue/plan-sheets';
import { orNull, type RecordParams, readId, requireActor, titled, withQueries } from '@/lib/platform/page';
import { showPlan } from '@/lib/queue/plans';

export const generateMetadata = titled('Sheets of a day');

export default async function SheetsPage({ params }: { params: RecordParams }) {
  const actor = await requireActor('plan.see');
  const id = await readId(params);
  const plan = await orNull(showPlan(actor, id));
  if (plan === null) notFound();
  return withQueries([{ key: planKeys.plan(id), load: async () => plan }], <PlanSheets id={id} />);
}
