import { ExchangePage } from '@/components/exchange/exchange-page';
import { exchangeKeys } from '@/components/exchange/queries';
import { describeExports } from '@/lib/exchange/service/exports';
import { requireActor, titled, withQueries } from '@/lib/platform/page';

export const generateMetadata = titled('Imports and exports');

export default async function Exchange() {
  const actor = await requireActor('catalogue.see');
  return withQueries([{ key: exchangeKeys.overview, load: () => describeExports(actor) }], <ExchangePage />);
}
