import { queueKeys } from '@/components/queue/queries';
import { SkillTable } from '@/components/queue/skill-table';
import { requireActor, titled, withQueries } from '@/lib/platform/page';
import { may } from '@/lib/platform/permissions';
import { listBenchPeople } from '@/lib/queue/skills';

export const generateMetadata = titled('Skills');

export default async function SkillsPage() {
  const actor = await requireActor('plan.see');
  return withQueries(
    [{ key: queueKeys.people, load: () => listBenchPeople(actor) }],
    <SkillTable maySign={may(actor, 'skills.sign')} ownId={actor.personId} />,
  );
}
