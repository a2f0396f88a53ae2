import { PlanList } from '@/components/queue/plan-list';
import { planKeys } from '@/components/queue/plan-queries';
import { queueKeys } from '@/components/queue/queries';
import { readListQuery, requireActor, type SearchParams, titled, withQueries } from '@/lib/platform/page';
import { may } from '@/lib/platform/permissions';
import { planListQuery } from '@/lib/queue/plan-wire';
import { listPlans, readPlanDefaults } from '@/lib/queue/plans';
import { listBenchPeople } from '@/lib/queue/skills';

export const generateMetadata = titled('Day plans');

export default async function PlansPage({ searchParams }: { searchParams: SearchParams }) {
  const actor = await requireActor('plan.see');
  const query = await readListQuery(planListQuery, searchParams);
  const { today, benchPlaces } = await readPlanDefaults(actor);
  return withQueries(
    [
      { key: planKeys.list(query), load: () => listPlans(actor, query) },
      { key: queueKeys.people, load: () => listBenchPeople(actor) },
    ],
    <PlanList query={query} today={today} benchPlaces={benchPlaces} mayMake={may(actor, 'plan.make')} />,
  );
}
