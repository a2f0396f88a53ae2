import { exchangeKeys } from '@/components/exchange/queries';
import { TokensPage } from '@/components/exchange/tokens-page';
import { listTokens } from '@/lib/exchange/service/tokens';
import { requireActor, titled, withQueries } from '@/lib/platform/page';

export const generateMetadata = titled('Tokens');

export default async function Tokens() {
  const actor = await requireActor('tokens.manage');
  return withQueries([{ key: exchangeKeys.tokens, load: () => listTokens(actor) }], <TokensPage />);
}
