import { planKeys } from '@/components/queue/plan-queries';
import { QueueSettings } from '@/components/queue/queue-settings';
import { requireActor, withQueries } from '@/lib/platform/page';
import { showChoices } from '@/lib/queue/choices';

export const metadata = { title: 'Queue settings' };

export default async function QueueSettingsPage() {
  const actor = await requireActor('plan.see');
  return withQueries([{ key: planKeys.settings, load: () => showChoices(actor) }], <QueueSettings />);
}
