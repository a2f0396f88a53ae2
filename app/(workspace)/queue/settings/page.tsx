import { QueueSettings } from '@/components/queue/queue-settings';
import { settingsKey } from '@/components/queue/settings-queries';
import { requireActor, titled, withQueries } from '@/lib/platform/page';
import { showChoices } from '@/lib/queue/choices';

export const generateMetadata = titled('Queue settings');

export default async function QueueSettingsPage() {
  const actor = await requireActor('plan.see');
  return withQueries([{ key: settingsKey, load: () => showChoices(actor) }], <QueueSettings />);
}
