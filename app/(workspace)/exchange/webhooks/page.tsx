import { exchangeKeys } from '@/components/exchange/queries';
import { WebhooksPage } from '@/components/exchange/webhooks-page';
import { listWebhooks } from '@/lib/exchange/webhooks/service';
import { requireActor, titled, withQueries } from '@/lib/platform/page';

export const generateMetadata = titled('Webhooks');

export default async function Webhooks() {
  const actor = await requireActor('webhooks.manage');
  return withQueries([{ key: exchangeKeys.webhooks, load: () => listWebhooks(actor) }], <WebhooksPage />);
}
