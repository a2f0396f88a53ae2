import { notFound } from 'next/navigation';
import { PlanDesk } from '@/components/queue/plan-desk';
import { planKeys } from '@/components/queue/plan-queries';
import { orNull, type RecordParams, readId, requireActor, titled, withQueries } from '@/lib/platform/page';
import { showPlan } from '@/lib/queue/plans';

export const generateMetadata = titled('Day plan');

export default async function PlanPage({ params }: { params: RecordParams }) {
  const actor = await requireActor('plan.see');
  const id = await readId(params);
  const plan = await orNull(showPlan(actor, id));
  if (plan === null) notFound();
  return withQueries([{ key: planKeys.plan(id), load: async () => plan }], <PlanDesk id={id} />);
}
