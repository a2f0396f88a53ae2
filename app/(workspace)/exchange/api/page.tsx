import { ApiReference } from '@/components/exchange/api-reference';
import { requireActor, titled } from '@/lib/platform/page';

export const generateMetadata = titled('API');

export default async function Api() {
  await requireActor('workspace.enter');
  return <ApiReference />;
}
